# A slip of the fingers names the beer that was meant.
wortfit solve amber-al
