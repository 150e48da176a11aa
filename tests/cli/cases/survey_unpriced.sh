# What a shop gives no price for is not for sale.
printf '{"store": "Bags", "malts": [{"id": "two-row-malt"}], "hops": [{"id": "magnum"}]}' >bags.json
printf '{"store": "Market", "malts": [{"id": "maize-grits"}, {"id": "flaked-maize", "price": "2.10/kg", "pack": "400 g"}]}' >market.json
wortfit survey cream --store bags.json --shop market.json --on 2026-11-25
