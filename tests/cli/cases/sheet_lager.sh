# A lager on a brewhouse, in bottles: two rests for a light body, a warm rest before the cold store.
wortfit sheet - --brewhouse examples/brewhouse-20l.json <<END
{ "recipe": "Harvest lager",
  "malts": [ { "id": "pilsner-malt", "weight": "4.3 kg" },
             { "id": "flaked-maize", "weight": "300 g" } ],
  "hops": [ { "id": "hallertau-mittelfrueh", "weight": "38 g", "at": "60 min" },
            { "id": "hallertau-mittelfrueh", "weight": "15 g", "at": "10 min" } ],
  "yeast": { "id": "german-lager" } }
END
