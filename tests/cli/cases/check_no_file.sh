# A recipe that is not there.
wortfit check nothing.json
