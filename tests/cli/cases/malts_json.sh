# For programs.
wortfit malts crystal-60 --json
