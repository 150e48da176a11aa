# A second time nothing changes.
cp examples/small-cellar.json mine.json
wortfit stock mine.json import examples/spring-order.csv >/dev/null
cp mine.json once.json
wortfit stock mine.json import examples/spring-order.csv --json --on 2026-11-25 | sed -n '/added/,/removed/p'
cmp once.json mine.json
