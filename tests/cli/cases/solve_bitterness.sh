# Bitterness takes the place of the ratio.
wortfit solve amber-ale --bitterness "30 IBU" | grep -E "bitter"
