wortfit solve amber-ale --alternatives 51
