# A store that holds nothing in stock has nothing to brew from alone.
wortfit plan --as-many-as-can amber-ale --store examples/well-stocked-shop.json --on 2026-11-25
