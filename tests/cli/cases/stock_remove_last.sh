# The last malt stays: a store has one at least.
echo '{ "store": "s", "malts": [ { "id": "pilsner-malt" } ] }' >mine.json
wortfit stock mine.json remove pilsner-malt
