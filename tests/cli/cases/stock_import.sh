# A table of lots: some are there, some are new.
cp examples/small-cellar.json mine.json
wortfit stock mine.json import examples/spring-order.csv --on 2026-11-25
diff examples/small-cellar.json mine.json || true
