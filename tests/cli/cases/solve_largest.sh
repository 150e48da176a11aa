# The most of a beer that the store makes; the next larger batch has no recipe.
cellar="--store examples/alder-lane-cellar.json --on 2026-11-25"
wortfit solve examples/my-amber.json --batch largest $cellar | head -n 1
wortfit solve examples/my-amber.json --batch "78.5 L" $cellar >out
code=$?
head -n 1 out
exit $code
# not under a prefix
