# A word that is not one of the choices.
wortfit malts --units imperial
