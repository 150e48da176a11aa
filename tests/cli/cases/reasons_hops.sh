# Hops that the store has too little of, and a word of character.
wortfit solve american-ipa --store examples/small-cellar.json --on 2026-11-25 >out
code=$?
sed '/^The nearest/q' out
exit $code
# not under a prefix
