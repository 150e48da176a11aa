# A file that is not there.
wortfit solve amber-ale --store nowhere.json
