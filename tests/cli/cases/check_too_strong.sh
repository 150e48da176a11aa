# Weights of which the laws know no beer.
printf '{"recipe": "x", "malts": [{"id": "pilsner-malt", "kg": 40}]}' | wortfit check -
