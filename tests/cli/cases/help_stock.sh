# The options of stock.
wortfit help stock
