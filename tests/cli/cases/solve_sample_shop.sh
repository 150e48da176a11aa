# Without a store: the sample shop, and its prices are said to be invented.
wortfit solve german-pils | grep -E "^(German|Cost|Prices|lowest)"
