# One command by its own option, whatever else is on the line.
wortfit beers --nonsense --help
