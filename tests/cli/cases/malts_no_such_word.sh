# A word that is of hops.
wortfit malts --word citrus
