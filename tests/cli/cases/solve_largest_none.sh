# No batch of it has a recipe: the usual one tells why.
wortfit solve examples/my-amber.json --colour "40 SRM" --batch largest \
    --store examples/small-cellar.json --on 2026-11-25 >out
code=$?
head -n 1 out
exit $code
# not under a prefix
