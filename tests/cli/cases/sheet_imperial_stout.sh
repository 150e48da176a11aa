# A strong beer in US units, held against its kind.
wortfit sheet - --brewhouse examples/brewhouse-5gal.json --units us --target imperial-stout <<END
{ "recipe": "Long night stout",
  "malts": [ { "id": "pale-ale-malt-british", "weight": "15 lb" },
             { "id": "crystal-80", "weight": "14 oz" },
             { "id": "roasted-barley-500", "weight": "11 oz" },
             { "id": "chocolate-malt-425", "weight": "8 oz" } ],
  "hops": [ { "id": "magnum", "weight": "2 oz", "at": "60 min" } ],
  "yeast": { "id": "american-ale-clean" } }
END
