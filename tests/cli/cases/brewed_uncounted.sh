# Lots whose amount is not kept stay as they are.
cat >cellar.json <<'S'
{ "store": "s", "malts": [{ "id": "pilsner-malt" }], "hops": [{ "id": "magnum", "have": "30 g" }] }
S
cat >pils.json <<'S'
{ "recipe": "pils", "malts": [{ "id": "pilsner-malt", "weight": "4.2 kg" }],
  "hops": [{ "id": "magnum", "weight": "30 g", "at": "60 min" }] }
S
wortfit brewed pils.json --store cellar.json --og 1.048 --volume '20 L' --on 2026-11-25
cat cellar.json
