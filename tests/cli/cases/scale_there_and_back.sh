# There and back by files: the same recipe, but for 5 g on a scale of 10 g.
wortfit scale examples/last-autumn-amber.json --batch "40 L" --json >there.json &&
wortfit scale there.json --batch "20 L" --json >back.json &&
wortfit compare examples/last-autumn-amber.json back.json | head -n 16
