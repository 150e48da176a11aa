# Ids of options are checked, all of them.
wortfit solve amber-ale --use cascadde --avoid chocolate-malt-250
