# All built-in beers.
wortfit beers
