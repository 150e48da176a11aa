# The same for programs.
wortfit solve amber-ale --colour "40 SRM" --store examples/alder-lane-cellar.json --on 2026-11-25 --json >out
code=$?
sed -n "1,/closest/p" out
exit $code
