# For programs: what cannot be brewed, and why not.
wortfit survey german-pils --store examples/small-cellar.json --no-shop --on 2026-11-25 --json
