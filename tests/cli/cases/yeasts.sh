# All of them.
wortfit yeasts
