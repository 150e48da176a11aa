# Half a thing is not missing.
wortfit survey --missing-most 1.5
