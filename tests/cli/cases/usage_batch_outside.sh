# A batch that no home brewhouse holds.
wortfit solve amber-ale --batch "1000 hL"
