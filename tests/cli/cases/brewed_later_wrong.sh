# A final gravity above the original one: nothing is written.
cp examples/alder-lane-cellar.json cellar.json
wortfit brewed examples/last-autumn-amber.json --store cellar.json --og 1.052 --volume '19.5 L' --on 2026-11-25 >/dev/null
wortfit brewed examples/last-autumn-amber.json --store cellar.json --later --fg 1.060
status=$?
wc -l <cellar.brews.jsonl
exit $status
