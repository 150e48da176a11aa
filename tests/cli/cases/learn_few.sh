# Two brews tell something, but not enough to be written down.
head -n 4 examples/alder-lane.brews.jsonl >two.brews.jsonl
cp examples/brewhouse-20l.json mine.json
wortfit learn two.brews.jsonl --brewhouse mine.json --write
cmp mine.json examples/brewhouse-20l.json
: >none.brews.jsonl
wortfit learn none.brews.jsonl
