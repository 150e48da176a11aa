# A slip of the fingers names the command that was meant.
wortfit slove amber-ale
