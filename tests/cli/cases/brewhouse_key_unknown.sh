# More keys than the message has room for: the list ends with a whole word.
printf '{"brewhouse": "home", "zzzz": 1}' >home.json
wortfit solve amber-ale --brewhouse ./home.json
