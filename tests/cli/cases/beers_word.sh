# By a word of their description.
wortfit beers --word smoke
