# The most of a beer that the store makes.
wortfit solve amber-ale --batch largest --store examples/small-cellar.json --on 2026-11-25 | head -n 1
