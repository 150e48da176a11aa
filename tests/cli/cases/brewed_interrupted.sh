# What a killed process has left: both files count already. Who reads sees them; who changes the
# store puts them in their places.
cp examples/alder-lane-cellar.json cellar.json
cp cellar.json old.json
wortfit brewed examples/last-autumn-amber.json --store cellar.json --og 1.052 --volume '19.5 L' --on 2026-11-25 >/dev/null
mv cellar.json cellar.json.brewing
mv cellar.brews.jsonl cellar.brews.jsonl.brewing
mv old.json cellar.json
wortfit stock cellar.json --word cascade --on 2026-11-25
ls
wortfit brewed examples/last-autumn-amber.json --store cellar.json --og 1.052 --volume '19.5 L' --on 2026-11-25 2>&1
wortfit stock cellar.json use cascade --take '1 g' --on 2026-11-25
ls
