# Scaled to what?
wortfit scale examples/last-autumn-amber.json
