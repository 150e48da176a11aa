# A brewhouse in US units keeps them.
cp examples/brewhouse-5gal.json mine.json
wortfit learn examples/alder-lane.brews.jsonl --brewhouse mine.json --write --units us >/dev/null
diff examples/brewhouse-5gal.json mine.json || true
