# All figures of one, and their source.
wortfit malts crystal-60
