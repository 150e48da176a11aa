# Why not: nothing is bought for a small cellar.
wortfit survey pils --store examples/small-cellar.json --no-shop --on 2026-11-25
