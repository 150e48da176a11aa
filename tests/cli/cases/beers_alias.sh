# The same by another of its names: only the first lines.
wortfit beers american-amber | head -n 2
