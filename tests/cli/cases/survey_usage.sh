# Options that go against each other.
wortfit survey --shop examples/well-stocked-shop.json --no-shop
