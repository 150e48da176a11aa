# Options of lists.
wortfit help hops
