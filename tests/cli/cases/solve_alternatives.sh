# More recipes: each differs from those before it by something that a drinker would notice.
wortfit solve amber-ale --og 1.055 --store examples/alder-lane-cellar.json --on 2026-11-25 --alternatives 5 | sed -n '/^Alternatives/,$p'
# not under a prefix
