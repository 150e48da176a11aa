# An option that is not known names the nearest.
wortfit solve amber-ale --colr "12 SRM"
