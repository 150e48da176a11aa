# The wishes in JSON are metric in any units.
wortfit check examples/spring-bitter.json --target best-bitter --units us --json | tail -n 30
