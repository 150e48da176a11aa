# All figures of one, and their source.
wortfit hops cascade
