# Two litres: weights and volumes that such a brew is measured by, and a tun that holds no such mash.
cat >stove.json <<END
{ "brewhouse": "Stove", "batch": "2 L", "evaporation": "1.5 L/h", "kettle_loss": "200 mL",
  "mash": { "tun": "1 L" }, "kettle": "3.5 L" }
END
wortfit sheet - --brewhouse stove.json <<END
{ "recipe": "Jug of porter",
  "kettle": { "batch_l": "2 L", "evaporation_l_h": "1.5 L/h" },
  "malts": [ { "id": "pale-ale-malt-british", "weight": "600 g" },
             { "id": "brown-malt", "weight": "60 g" } ],
  "hops": [ { "id": "fuggle", "weight": "6 g", "at": "60 min" } ],
  "yeast": { "id": "english-ale-dry" } }
END
