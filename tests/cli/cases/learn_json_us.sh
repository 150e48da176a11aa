wortfit learn examples/alder-lane.brews.jsonl --json
wortfit learn examples/alder-lane.brews.jsonl --units us
