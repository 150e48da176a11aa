# Nothing is like that.
wortfit stock examples/alder-lane-cellar.json --kind yeast --word crystal
