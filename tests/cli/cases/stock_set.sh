# What is written of a lot is corrected.
cp examples/small-cellar.json mine.json
wortfit stock mine.json set cascade --have '85 g' --alpha '6.1 %' --opened 2026-10-03 --on 2026-11-25
wortfit stock mine.json set pale-ale-malt-american --field opened= --field 'name=Pale malt, new sack' --on 2026-11-25
diff examples/small-cellar.json mine.json || true
