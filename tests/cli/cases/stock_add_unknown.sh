# What the catalogue does not know needs all its figures.
cp examples/small-cellar.json mine.json
wortfit stock mine.json add cascad
wortfit stock mine.json add own-hop --kind hop --have '3 g'
wortfit stock mine.json add pilsner-malt --is pilsner-malt --alpha '3 %'
