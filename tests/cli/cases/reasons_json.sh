# For programs: conflicts, changes and the nearest recipe.
wortfit solve amber-ale --use simcoe --store examples/small-cellar.json --on 2026-11-25 --json >out
code=$?
sed '/"closest"/q' out
exit $code
