# No hops, and no word of when they go in; then no word of how bitter.
printf '{"recipe": "Bare grist", "malts": [{"id": "two-row-malt", "weight": "4.5 kg"}]}' >grist.json
wortfit hops grist.json --ratio 0.5
wortfit hops grist.json --schedule "60 min magnum"
