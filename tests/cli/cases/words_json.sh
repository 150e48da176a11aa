# For programs: it is JSON, and holds as many words as the text has lines below its titles.
wortfit words --json | grep -c "\"word\""
wortfit words | tail -n +2 | grep -c .
