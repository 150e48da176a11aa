# The lots of a store, with their ages on a day.
wortfit stock examples/alder-lane-cellar.json --on 2026-11-25
