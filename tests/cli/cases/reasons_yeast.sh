# No yeast ferments it so.
wortfit solve saison --store examples/small-cellar.json --on 2026-11-25 >out
code=$?
sed '/^The nearest/q' out
exit $code
# not under a prefix
