# No grain and no yeast named: no mash, no final gravity.
wortfit sheet - <<END
{ "recipe": "Kitchen pale", "batch_l": "10 L",
  "malts": [ { "id": "malt-extract-dry-pale", "weight": "1.2 kg" } ],
  "hops": [ { "id": "cascade", "weight": "20 g", "at": "30 min" } ] }
END
