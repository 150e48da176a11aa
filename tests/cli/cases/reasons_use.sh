# A hop that the store has not: leave it out, or get it.
wortfit solve amber-ale --use simcoe --store examples/small-cellar.json --on 2026-11-25 >out
code=$?
sed '/^The nearest/q' out
exit $code
