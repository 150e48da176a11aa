# Hops for a bare grist, out of a store.
printf '{"recipe": "Bare grist", "malts": [{"id": "two-row-malt", "weight": "4.5 kg"}]}' >grist.json
wortfit hops grist.json --schedule "60|30 min, 10 min cascade 20 g" --ratio 0.6 --store examples/alder-lane-cellar.json --on 2026-11-25
