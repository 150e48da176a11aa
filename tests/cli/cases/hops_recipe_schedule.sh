# A schedule: free times, a fixed weight, a dose, and what is kept.
wortfit hops examples/last-autumn-amber.json --schedule "45|30 min, 15 min cascade 20 g, stand 20 min 80 C 1 g/L, dry 4 days keep" --bitterness "35 IBU"
