# Too few enzymes: a rye beer from malts that have none.
cat >rye.json <<'T'
{ "target": "rye", "name": "Rye of three", "og": "1.050", "diastatic": ">= 100 Lintner",
  "grist": [ { "malt": "munich-malt-dark", "share": "60..80 %" } ], "hops": [ { "at": "60 min" } ], "bitterness": "25 IBU" }
T
wortfit solve ./rye.json --store examples/alder-lane-cellar.json --on 2026-11-25 >out
code=$?
sed '/^The nearest/q' out
exit $code
