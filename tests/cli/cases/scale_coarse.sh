# A scale too coarse for small weights: what differs in the glass.
wortfit scale examples/spring-bitter.json --brewhouse examples/brewhouse-small-pots.json
