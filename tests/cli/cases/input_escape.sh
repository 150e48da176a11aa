# Control characters of a file reach no terminal.
printf "{ \"store\": \"Shed\", \"malts\": [ { \"id\": \"two-row-malt\", \"have\": \"\\\\u001b[31m5 kg\" } ] }" >shed.json
wortfit solve amber-ale --store shed.json
