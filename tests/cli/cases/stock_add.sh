# New lots, like those beside them.
cp examples/small-cellar.json mine.json
wortfit stock mine.json add house-crystal --is crystal-60 --have '900 g' --price 2.90/kg --colour '58 Lov' --packed 2026-09-12 --on 2026-11-25
wortfit stock mine.json add own-malt --kind malt --have '1 kg' --field class=base --field 'potential=37 ppg' --field 'colour=3 Lov' --field 'character=grainy 2, honey 1' --on 2026-11-25
wortfit stock mine.json add citra --alpha '12.4 %' --have '1 oz' --field 'kept=5 C sealed' --json --on 2026-11-25
diff examples/small-cellar.json mine.json || true
