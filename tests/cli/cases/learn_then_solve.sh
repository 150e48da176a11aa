# A solve on the brewhouse that has learnt: efficiency for the gravity, its yeast, its bitterness; and
# the recipe checked there says the same.
cp examples/brewhouse-20l.json mine.json
wortfit learn examples/alder-lane.brews.jsonl --brewhouse mine.json --write >/dev/null
on() { wortfit "$@" --store examples/alder-lane-cellar.json --brewhouse mine.json --on 2026-11-25; }
on solve amber-ale
on solve amber-ale --json >amber.json
on check amber.json --target amber-ale >checked && sed -n '/^Wish/,/^$/p;/^Reckoned/,$p' checked
on solve amber-ale --sure '60 %' --og 1.045..1.060 --colour '8..18 SRM' --ratio 0.4..0.9 | head -n 3
