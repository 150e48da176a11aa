# What is used up stays in the file, and is not brewed with.
cp examples/small-cellar.json mine.json
wortfit stock mine.json use magnum --take '25 g' --on 2026-11-25 --kind hop
wortfit solve amber-ale --store mine.json --on 2026-11-25 | grep -c '^boil.*Magnum'
