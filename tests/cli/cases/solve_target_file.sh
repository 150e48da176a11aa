# A target of the brewer's own.
wortfit solve examples/my-amber.json --store examples/alder-lane-cellar.json --on 2026-11-25 | head -n 4
