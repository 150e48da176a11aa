# Options of lists.
wortfit help yeasts
