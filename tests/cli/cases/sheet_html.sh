# As a file: what is said of it, and that names are escaped in it.
wortfit sheet - --html sheet.html <<END
{ "recipe": "<script>alert(1)</script>", "malts": [ { "id": "pilsner-malt", "weight": "4 kg" } ],
  "hops": [ { "id": "saaz", "weight": "30 g", "at": "60 min" } ] }
END
grep -c '&lt;script&gt;alert(1)&lt;/script&gt;' sheet.html
grep -c '<script' sheet.html
ls
