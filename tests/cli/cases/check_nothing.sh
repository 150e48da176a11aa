# No recipe is named.
wortfit check
