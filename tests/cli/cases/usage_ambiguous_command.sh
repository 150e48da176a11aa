# A beginning that two commands share names both.
wortfit h
