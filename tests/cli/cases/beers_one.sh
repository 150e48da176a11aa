# What one beer asks for.
wortfit beers amber-ale
