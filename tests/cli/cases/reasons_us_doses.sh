# Doses in ounces a gallon that do as they are written.
wortfit solve german-pils --store examples/us-homebrew-corner.json --units us --brewhouse examples/brewhouse-5gal.json --on 2026-11-25 >out
code=$?
sed '/^The nearest/q' out
exit $code
# not under a prefix
