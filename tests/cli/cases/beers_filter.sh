# By figures, with a spelling that is used overseas.
wortfit beers --color "25..40 SRM" --abv "<= 5 %"
