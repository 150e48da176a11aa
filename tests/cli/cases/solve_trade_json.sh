# For programs: points of a plot, each with its recipe.
wortfit solve german-pils --trade fewest,cost --json | grep -E '^ {2,6}"(trade|ingredients|cost|bound|complete)"'
# not under a prefix
