# A lot that is there is set, not added.
cp examples/small-cellar.json mine.json
wortfit stock mine.json add cascade --have '3 g'
