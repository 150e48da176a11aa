# For programs.
wortfit sheet examples/spring-bitter.json --brewhouse examples/brewhouse-20l.json --json
