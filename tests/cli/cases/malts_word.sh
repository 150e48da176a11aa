# By a word of character, the strongest first.
wortfit malts --word smoky
