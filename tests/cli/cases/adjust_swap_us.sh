# Part of one malt for another, nothing else: both glasses, in US units.
wortfit adjust examples/spring-bitter.json --swap "100 g crystal-60 for munich-malt-light" --units us
