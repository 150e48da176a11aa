# A brew whose figures cannot be is left out, and named.
cp examples/alder-lane.brews.jsonl mine.jsonl
sed -i '3s/"volume_l": [0-9.]*/"volume_l": 95/' mine.jsonl
wortfit learn mine.jsonl
