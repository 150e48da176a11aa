# Options of lists.
wortfit help malts
