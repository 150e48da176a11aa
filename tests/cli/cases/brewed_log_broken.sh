# A log that a copy has cut short is not added to.
cp examples/alder-lane-cellar.json cellar.json
wortfit brewed examples/last-autumn-amber.json --store cellar.json --og 1.052 --volume '19.5 L' --on 2026-11-25 >/dev/null
head -c 500 cellar.brews.jsonl >part && mv part cellar.brews.jsonl && cp cellar.json before.json
wortfit brewed examples/last-autumn-amber.json --store cellar.json --og 1.052 --volume '19.5 L' --used cascade='3 g' --on 2026-11-26
status=$?
cmp cellar.json before.json
exit $status
