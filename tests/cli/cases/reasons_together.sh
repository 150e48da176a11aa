# Changes that only together would do.
wortfit solve examples/my-amber.json --store examples/small-cellar.json --on 2026-11-25 >out
code=$?
sed '/^The nearest/q' out
exit $code
