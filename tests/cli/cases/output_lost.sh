# A full disk is told, and is an error.
wortfit words >/dev/full
