# Adjusted to what? And bitterness by two measures at once.
wortfit adjust examples/last-autumn-amber.json
wortfit adjust examples/last-autumn-amber.json --ratio 0.6 --bitterness "35 IBU"
