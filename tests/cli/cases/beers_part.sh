# A part of a name lists all that hold it.
wortfit beers stout
