# What a brewhouse can have learnt has limits.
cat >mine.json <<'B'
{ "brewhouse": "b", "efficiency_fall": "30 %", "efficiency_gravity": 1.5, "bitterness_factor": 9,
  "colour_factor": "dark", "yeasts": [{ "id": "american-ale-clean" }, { "id": "x", "attenuation": "5 %" }] }
B
wortfit check examples/last-autumn-amber.json --brewhouse mine.json
