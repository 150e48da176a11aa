# Late hops alone give more than is wanted.
wortfit hops examples/last-autumn-amber.json --bitterness "5 IBU"
