# What must be in it is, what must not is not; one recipe each.
wortfit solve amber-ale --use munich-malt-light --json | grep -c "\"id\": \"munich-malt-light\""
wortfit solve amber-ale --avoid cascade --json | grep -c "\"id\": \"cascade\""
true
