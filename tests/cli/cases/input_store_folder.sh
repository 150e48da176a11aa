# A folder in place of a file.
wortfit solve amber-ale --store examples
