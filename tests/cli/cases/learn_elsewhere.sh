# One log, two brewhouses: brewed writes down which it was, learn counts those of the one it is asked of.
cat >cellar.json <<END
{ "store": "Two kitchens", "currency": "EUR",
  "malts": [ { "id": "pilsner-malt", "have": "40 kg", "price": "1.20/kg" } ],
  "hops": [ { "id": "saaz", "have": "600 g", "price": "40/kg" } ],
  "yeasts": [ { "id": "german-lager", "have": 6, "price": "3" } ] }
END
cat >lager.json <<END
{ "recipe": "Lager", "malts": [ { "id": "pilsner-malt", "weight": "4.4 kg" } ],
  "hops": [ { "id": "saaz", "weight": "60 g", "at": "60 min" } ], "yeast": { "id": "german-lager" } }
END
twenty="--store cellar.json --brewhouse examples/brewhouse-20l.json"
wortfit brewed lager.json $twenty --og 1.046 --volume 19L --on 2026-11-01 >/dev/null
wortfit brewed lager.json $twenty --og 1.047 --volume 19L --on 2026-11-08 >/dev/null
wortfit brewed lager.json --store cellar.json --brewhouse examples/brewhouse-small-pots.json --og 1.080 \
    --volume 8.7L --on 2026-11-15 | head -n 5
wortfit learn cellar.brews.jsonl --brewhouse examples/brewhouse-20l.json | head -n 4
wortfit learn cellar.brews.jsonl | head -n 4
head -n 1 cellar.brews.jsonl >one.brews.jsonl
wortfit learn one.brews.jsonl --json | grep -e elsewhere -e mixed -e brews | head -n 4
grep -o '"brewhouse": "[^"]*"' cellar.brews.jsonl
