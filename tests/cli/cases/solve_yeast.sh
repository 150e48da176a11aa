# One yeast, and none other.
wortfit solve amber-ale --yeast english-ale-dry | grep "^Yeast"
