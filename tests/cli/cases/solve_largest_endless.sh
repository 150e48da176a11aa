# The sample shop has no end.
wortfit solve amber-ale --batch largest
# not under a prefix
