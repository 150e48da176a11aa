# No recipe: the nearest, what it misses, and exit status 3.
wortfit solve amber-ale --colour "40 SRM" --store examples/alder-lane-cellar.json --on 2026-11-25 >out
code=$?
head -n 9 out
exit $code
