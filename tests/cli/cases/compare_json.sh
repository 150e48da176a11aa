# For programs.
wortfit compare examples/spring-bitter.json examples/last-autumn-amber.json --json
