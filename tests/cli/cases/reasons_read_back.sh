# The file is read again, and its nearest recipe is checked.
wortfit solve amber-ale --use simcoe --store examples/small-cellar.json --on 2026-11-25 --json >none.json
wortfit check none.json --on 2026-11-25 | head -n 4
