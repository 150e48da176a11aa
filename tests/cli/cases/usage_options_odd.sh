# A single dash, a value for a flag, options twice, a part of a thread, a lot of two kinds, words missing.
wortfit adjust examples/last-autumn-amber.json -more toast
wortfit solve amber-ale --json=yes
wortfit solve amber-ale --batch '20 L' --batch '21 L'
wortfit solve amber-ale --json --json --batch 'L'
wortfit survey --store examples/alder-lane-cellar.json --threads 1.5
wortfit stock examples/small-cellar.json add pale-ale-malt --have '1 kg' --kind malt --kind hop
wortfit stock examples/small-cellar.json use
wortfit stock examples/small-cellar.json use pale-ale-malt
wortfit stock examples/small-cellar.json use pale-ale-malt twice --take '1 kg'
wortfit hops --alpha '>= 5 %' --alpha '<= 9 %'
