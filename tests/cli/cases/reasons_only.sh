# Malts that do not belong: what would, and still a nearest recipe.
wortfit solve american-lager --store examples/small-cellar.json --on 2026-11-25
