# The model is a file that another solver can read.
wortfit plan amber-ale dry-stout --store examples/alder-lane-cellar.json --on 2026-11-25 --write-model model.lp >/dev/null
grep -cE "^(Minimize|Subject To|Bounds|Generals?|End)$" model.lp
