# A store that lists no yeasts is not asked for one.
printf '{"store": "Bags", "malts": [{"id": "two-row-malt"}], "hops": [{"id": "magnum"}]}' >bags.json
wortfit survey cream --store bags.json --on 2026-11-25
