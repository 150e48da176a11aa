# For programs.
wortfit hops cascade --json
