# No command at all.
wortfit
