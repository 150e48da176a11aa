# A target file that is not there.
wortfit solve ./mine.json
