# Two goals in order, each with its proof.
wortfit solve german-pils --goal fewest,cost | tail -n 3
