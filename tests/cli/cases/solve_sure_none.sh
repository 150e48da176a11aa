# Wishes narrower than their ranges: the surest recipe, what it misses, and exit status 3.
wortfit solve amber-ale --og 1.055 --store examples/alder-lane-cellar.json --on 2026-11-25 --sure "90 %" >out
code=$?
sed -n "1,/^$/p;/^Wish/,/^$/p" out | head -n 16
exit $code
# not under a prefix
