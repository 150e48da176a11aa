# No recipe: what cannot hold together, what would do, and exit status 3.
wortfit solve amber-ale --colour "40 SRM" --store examples/alder-lane-cellar.json --on 2026-11-25 >out
code=$?
sed "/^The nearest/q" out
exit $code
