# On a brewhouse that leaves a litre in the kettle, with what was really taken, in ounces and gallons.
cp examples/alder-lane-cellar.json cellar.json
wortfit brewed examples/last-autumn-amber.json --store cellar.json --brewhouse examples/brewhouse-20l.json --og 1.054 --volume '5 gal' --used 'crystal-40=11 oz' --used cascade='2 oz' --used american-ale-clean=2 --units us --on 2026-11-25
wortfit stock cellar.json --word crystal-40 --on 2026-11-25
