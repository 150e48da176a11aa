# The sample shop has all there is: nothing is looked for elsewhere.
wortfit solve american-stout --worth --goal fewest | sed -n "/^Goal/,\$p"
# not under a prefix
