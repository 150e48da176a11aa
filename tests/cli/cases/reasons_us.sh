# Pounds, ounces and ounces a gallon, as they are weighed.
wortfit solve american-ipa --store examples/us-homebrew-corner.json --units us --brewhouse examples/brewhouse-5gal.json --use mosaic --on 2026-11-25 >out
code=$?
sed '/^The nearest/q' out
exit $code
