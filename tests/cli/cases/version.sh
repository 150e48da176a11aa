# The version.
wortfit --version
