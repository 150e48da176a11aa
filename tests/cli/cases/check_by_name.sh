# Names in any case; the second lot is known to the store alone.
wortfit check - <<END
{ "recipe": "From a card",
  "malts": [ { "name": "pilsner malt (continental 2-ROW)", "weight": "4 kg" },
             { "name": "House crystal, stewed in the oven", "weight": "250 g" } ],
  "hops": [ { "id": "Saaz", "weight": "40 g", "at": "60 min" } ] }
END
wortfit check - --store examples/alder-lane-cellar.json --on 2026-11-25 <<END
{ "recipe": "From a card",
  "malts": [ { "name": "pilsner malt (continental 2-ROW)", "weight": "4 kg" },
             { "name": "House crystal, stewed in the oven", "weight": "250 g" } ],
  "hops": [ { "id": "Saaz", "weight": "40 g", "at": "60 min" } ] }
END
