# Temperatures in Fahrenheit.
wortfit yeasts german-lager --units us
