# Too little of a lot: how much more would do, and what else could be got.
wortfit solve american-pale-ale --batch '30 L' --store examples/small-cellar.json --on 2026-11-25
# not under a prefix
