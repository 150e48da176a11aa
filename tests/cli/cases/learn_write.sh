# Written into the brewhouse, whose comments stay; learnt once more, nothing changes.
cp examples/brewhouse-20l.json mine.json
wortfit learn examples/alder-lane.brews.jsonl --brewhouse mine.json --write
diff examples/brewhouse-20l.json mine.json
cp mine.json once.json
wortfit learn examples/alder-lane.brews.jsonl --brewhouse mine.json --write >/dev/null
cmp once.json mine.json
