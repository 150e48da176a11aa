# No beer is called so.
wortfit survey amberish
