# What a year of brews tells, held against a brewhouse.
wortfit learn examples/alder-lane.brews.jsonl --brewhouse examples/brewhouse-20l.json
