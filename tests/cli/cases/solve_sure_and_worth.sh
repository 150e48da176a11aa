# One question at a time.
wortfit solve amber-ale --sure "90 %" --worth
# not under a prefix
