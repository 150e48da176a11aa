# A lot goes, with its line.
cp examples/small-cellar.json mine.json
wortfit stock mine.json remove crystal-60
wortfit stock mine.json remove willamette --json --on 2026-11-25
diff examples/small-cellar.json mine.json || true
