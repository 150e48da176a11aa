# For programs: a recipe again, with its changes and what they come to.
wortfit adjust examples/spring-bitter.json --og 1.048 --store examples/alder-lane-cellar.json --on 2026-11-25 --json | grep -v seconds
