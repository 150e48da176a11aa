# Counts that cannot hold.
cat >two.json <<'T'
{ "target": "two", "name": "Only two", "og": "1.050", "colour": "30 SRM",
  "grist": [ { "class": "base", "least": 2 }, { "class": "roast", "least": 1 }, { "any": [], "most": 2 } ],
  "hops": [ { "at": "60 min" } ], "bitterness": "25 IBU" }
T
wortfit solve ./two.json --store examples/alder-lane-cellar.json --on 2026-11-25 >out
code=$?
sed '/^The nearest/q' out
exit $code
