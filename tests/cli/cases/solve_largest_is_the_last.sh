# The next larger batch has no recipe.
store="examples/small-cellar.json"
wortfit solve amber-ale --batch "24 L" --store $store --on 2026-11-25 | head -n 1
wortfit solve amber-ale --batch "24.5 L" --store $store --on 2026-11-25 >out
code=$?
head -n 1 out
grep "^No recipe" out
exit $code
