# What a recipe takes, all of it or nothing.
cp examples/small-cellar.json mine.json
wortfit solve amber-ale --store mine.json --on 2026-11-25 --json >recipe.json
wortfit stock mine.json use --recipe recipe.json --on 2026-11-25
wortfit stock mine.json use --recipe recipe.json
status=$?
diff examples/small-cellar.json mine.json || true
exit $status
