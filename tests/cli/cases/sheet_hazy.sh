# Many flakes rest for their gums; a stand; dry hops on two days; in a keg.
wortfit sheet - --keg --carbonation "5 g/L" <<END
{ "recipe": "Fog over the yard",
  "malts": [ { "id": "two-row-malt", "weight": "3.4 kg" },
             { "id": "flaked-oats", "weight": "1.1 kg" },
             { "id": "flaked-wheat", "weight": "600 g" } ],
  "hops": [ { "id": "magnum", "weight": "9 g", "at": "first wort" },
            { "id": "citra", "weight": "50 g", "at": "stand 20 min 80 C" },
            { "id": "citra", "weight": "60 g", "at": "dry 3 days" },
            { "id": "mosaic", "weight": "60 g", "at": "dry 5 days" } ],
  "yeast": { "id": "american-ale-estery" } }
END
