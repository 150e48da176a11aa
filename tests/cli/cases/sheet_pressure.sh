# No evaporation is reckoned; nothing is left to sparge with; 400 L are printed to a tenth.
cat >lid.json <<END
{ "brewhouse": "Lid on", "batch": "400 L", "evaporation": "0 L/h", "boil": "30 min",
  "absorption": "0.5 L/kg", "mash": { "liquor": "12 L/kg" } }
END
wortfit sheet - --brewhouse lid.json <<END
{ "recipe": "Copper lager", 
  "kettle": { "batch_l": "400 L", "boil_min": "30 min", "evaporation_l_h": "0 L/h" },
  "malts": [ { "id": "munich-malt-light", "weight": "92 kg" } ], "hops": [],
  "yeast": { "id": "german-lager" } }
END
