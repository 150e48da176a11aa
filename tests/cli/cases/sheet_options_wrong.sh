# Values that are not right, each with what would be.
wortfit sheet examples/spring-bitter.json --carbonation 2.4 --mash "80 C" --priming honey --beer-temperature "40 C"
