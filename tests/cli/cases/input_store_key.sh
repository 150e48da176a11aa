# A key that is not known names the nearest; a weight without a unit shows the fix.
cat >shed.json <<END
{ "store": "Shed",
  "malts": [ { "id": "two-row-malt", "hav": "5 kg" }, { "id": "vienna-malt", "have": 3 } ] }
END
wortfit solve amber-ale --store shed.json
