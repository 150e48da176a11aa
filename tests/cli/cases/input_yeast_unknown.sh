# A yeast or a family.
wortfit solve amber-ale --yeast ales
