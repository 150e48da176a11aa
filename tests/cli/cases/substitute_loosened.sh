# Where nothing holds the beer closely: what is lost.
wortfit substitute examples/spring-bitter.json --without pale-ale-malt-british --store examples/small-cellar.json --recipes 1 --on 2026-11-25
