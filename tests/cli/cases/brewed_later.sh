# What the fermenter and a laboratory say later goes to the recipe's last brew, or that of a day.
cp examples/alder-lane-cellar.json cellar.json
wortfit stock cellar.json set cascade --have '500 g' >/dev/null
wortfit brewed examples/last-autumn-amber.json --store cellar.json --og 1.052 --volume '19.5 L' --on 2026-10-03 >/dev/null
wortfit brewed examples/last-autumn-amber.json --store cellar.json --og 1.056 --volume '19 L' --on 2026-11-07 >/dev/null
wortfit brewed examples/last-autumn-amber.json --store cellar.json --later --fg 1.013
wortfit brewed examples/last-autumn-amber.json --store cellar.json --later --fg 1.011 --ibu '29 IBU' --colour '27 EBC' --on 2026-10-03
grep later cellar.brews.jsonl
echo "told once more"
wortfit brewed examples/last-autumn-amber.json --store cellar.json --later --fg 1.013
