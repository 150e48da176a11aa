# A store from standard input can be listed, not changed.
cat examples/small-cellar.json | wortfit stock - --kind yeast --on 2026-11-25
cat examples/small-cellar.json | wortfit stock - remove irish-ale
