# No log; a log that is a store; nowhere to write; a folder that may not be written to.
wortfit learn absent.brews.jsonl
wortfit learn examples/small-cellar.json 2>&1 | head -n 2
wortfit learn examples/alder-lane.brews.jsonl --write
wortfit learn examples/alder-lane.brews.jsonl --brewhouse absent.json --write
