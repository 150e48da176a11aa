# Told twice; with other figures; and brewed twice indeed.
cp examples/alder-lane-cellar.json cellar.json
wortfit stock cellar.json set cascade --have '500 g' >/dev/null
brewed() { wortfit brewed examples/last-autumn-amber.json --store cellar.json --volume '19.5 L' --on 2026-11-25 "$@" >/dev/null; }
brewed --og 1.052
cp cellar.json once.json
brewed --og 1.052
brewed --og 1.053
cmp cellar.json once.json && wc -l <cellar.brews.jsonl
brewed --og 1.053 --again
cut -c 1-60 cellar.brews.jsonl
brewed --og 1.053
