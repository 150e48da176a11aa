# The vocabulary of character.
wortfit words
