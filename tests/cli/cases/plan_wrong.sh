# Operands and options that make no sense.
wortfit plan
wortfit plan "0 amber-ale"
wortfit plan "2.5 amber-ale"
wortfit plan "12000 L amber-ale"
wortfit plan "21 amber-ale"
wortfit plan "19 amber-ale" "2 amber-ale"
wortfit plan amberish
wortfit plan --as-many-as-can amber-ale
wortfit plan --as-many-as-can amber-ale --store examples/small-cellar.json --shop examples/well-stocked-shop.json
