# An amount is taken out; the rest of the file is what it was.
cp examples/small-cellar.json mine.json
wortfit stock mine.json use cascade --take '30 g' --on 2026-11-25
wortfit stock mine.json use pale-ale-malt-american --take '9 oz' --on 2026-11-25
wortfit stock mine.json use irish-ale --take 1 --on 2026-11-25
diff examples/small-cellar.json mine.json || true
