# Something that is to be avoided, let in.
wortfit solve amber-ale --avoid crystal-60 --store examples/small-cellar.json --on 2026-11-25 >out
code=$?
sed '/^The nearest/q' out
exit $code
