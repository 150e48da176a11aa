# Not JSON: line and column.
printf "{\n  \"store\": \"Shed\",\n  \"malts\": [ { \"id\": \"pale ]\n}\n" >shed.json
wortfit solve amber-ale --store shed.json
