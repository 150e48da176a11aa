# A recipe typed by hand, with a bag of another alpha acid.
wortfit hops examples/last-autumn-amber.json --alpha magnum=11.8% --alpha cascade=5.2%
