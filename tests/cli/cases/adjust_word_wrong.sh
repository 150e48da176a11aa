# A word that is none, one that is near one, and an amount in the wrong unit.
wortfit adjust examples/last-autumn-amber.json --more tost
wortfit adjust examples/last-autumn-amber.json --more happiness
wortfit adjust examples/last-autumn-amber.json --more "bitterness by 3 kg"
wortfit adjust examples/last-autumn-amber.json --more toast --less toast
wortfit adjust examples/last-autumn-amber.json --less smoky
