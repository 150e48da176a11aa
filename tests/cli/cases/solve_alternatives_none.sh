# Where there is no recipe, the nearest is told, as without --alternatives.
wortfit solve amber-ale --colour "40 SRM" --alternatives 2 --store examples/alder-lane-cellar.json --on 2026-11-25 >out
code=$?
head -n 4 out
exit $code
# not under a prefix
