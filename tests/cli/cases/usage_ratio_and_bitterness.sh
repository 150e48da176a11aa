# The two exclude each other.
wortfit solve amber-ale --ratio 0.6 --bitterness "35 IBU"
