# A figure from 5.5 to 5.5 %, which no whole steps give, and no proof that none does.
printf '{"target": "t", "og": "1.050..1.060", "abv": "5.5..5.5 %%", "ratio": "0.6..0.6", "hops": [{"at": "60 min"}]}' >t.json
wortfit solve ./t.json --time '1 s'
