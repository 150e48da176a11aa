# Not even one.
wortfit plan --as-many-as-can german-pils munich-helles --store examples/alder-lane-cellar.json --on 2026-11-25
