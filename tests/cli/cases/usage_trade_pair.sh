# Only cost against ingredients.
wortfit solve amber-ale --trade cost,closest
