# A brew: what differed from the plan, what is left of the stock, and the line in the log.
cp examples/alder-lane-cellar.json cellar.json
wortfit brewed examples/last-autumn-amber.json --store cellar.json --og 1.052 --volume '19.5 L' --pre-boil-volume '24 L' --boil '65 min' --on 2026-11-25
diff examples/alder-lane-cellar.json cellar.json
cat cellar.brews.jsonl
