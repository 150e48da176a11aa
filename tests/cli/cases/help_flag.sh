# The same by an option.
wortfit --help
