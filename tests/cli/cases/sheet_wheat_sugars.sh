# Lactose and sugar late in the boil; a carbonation that ordinary bottles do not bear.
wortfit sheet - --carbonation "3.6 vol" --priming sucrose --beer-temperature "18 C" \
    --grain-temperature "12 C" --mash "66 C" <<END
{ "recipe": "Orchard wheat",
  "malts": [ { "id": "wheat-malt-pale", "weight": "2.4 kg" },
             { "id": "pilsner-malt", "weight": "2 kg" },
             { "id": "lactose", "weight": "250 g" },
             { "id": "cane-sugar", "weight": "200 g" } ],
  "hops": [ { "id": "saaz", "weight": "25 g", "at": "60 min" } ],
  "yeast": { "id": "saison-ale" } }
END
