# The change that is told, made: a recipe. A last digit less: none.
amber="amber-ale --store examples/alder-lane-cellar.json --on 2026-11-25"
wortfit solve $amber --colour "3 SRM" | grep "up to"
wortfit solve $amber --colour "2..8.3 SRM" | grep "^colour"
wortfit solve $amber --colour "2..8.2 SRM" | grep "up to"
exit 0
# not under a prefix
