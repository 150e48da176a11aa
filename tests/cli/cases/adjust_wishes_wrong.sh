# Wishes that contradict one another or say nothing, and a malt swapped for itself.
wortfit adjust examples/last-autumn-amber.json --use biscuit-malt --avoid biscuit-malt
wortfit adjust examples/last-autumn-amber.json --ratio 0.6 --bitterness '30 IBU'
wortfit adjust examples/last-autumn-amber.json --ratio 0.6 --more bitterness
wortfit adjust examples/last-autumn-amber.json --more 'a word that goes on for ever and ever and ever and ever'
wortfit adjust examples/last-autumn-amber.json --more 'toast by 30 kg'
wortfit adjust examples/last-autumn-amber.json --target amber-al
wortfit adjust examples/last-autumn-amber.json --swap '200 g munich-malt-light for munich-malt-light'
wortfit adjust examples/last-autumn-amber.json --swap '200 g munich-malt-light for vienna-mal'
wortfit substitute examples/last-autumn-amber.json --share '200 g vienna-malt'
