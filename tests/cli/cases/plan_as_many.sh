# The most of these that the stock allows.
wortfit plan --as-many-as-can blonde-ale dry-stout german-pils --store examples/alder-lane-cellar.json --on 2026-11-25
