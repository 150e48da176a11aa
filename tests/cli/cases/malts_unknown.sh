# A slip of the fingers names the malt that was meant.
wortfit malts cristal-60
