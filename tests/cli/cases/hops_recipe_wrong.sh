# Words that mean nothing here.
wortfit hops examples/last-autumn-amber.json --schedule 61
wortfit hops examples/last-autumn-amber.json --schedule "60 min cascad"
wortfit hops examples/last-autumn-amber.json --schedule "12 min keep"
wortfit hops examples/last-autumn-amber.json --schedule "30 min 20 g"
wortfit hops examples/last-autumn-amber.json --alpha cascad=5%
wortfit hops examples/last-autumn-amber.json --alpha cascade=45%
wortfit hops examples/last-autumn-amber.json --alpha cascade=5
wortfit hops examples/last-autumn-amber.json --alpha ">= 5 %"
wortfit hops examples/last-autumn-amber.json --word citrus
wortfit hops examples/last-autumn-amber.json --schedule "60 min" --change all
wortfit hops --ratio 0.7
wortfit hops --alpha often
