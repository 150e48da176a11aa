# A weight without a hop, a place that keeps what was never there, a hop that nothing is like, two wishes at once.
wortfit hops examples/last-autumn-amber.json --schedule "first wort 20 g"
wortfit hops examples/last-autumn-amber.json --schedule "first wort keep"
wortfit hops examples/last-autumn-amber.json --schedule "60 min qqqqqqqqqq"
wortfit hops examples/last-autumn-amber.json --ratio 0.7 --bitterness '35 IBU'
