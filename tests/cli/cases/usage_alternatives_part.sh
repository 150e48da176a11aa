wortfit solve amber-ale --alternatives 2.5
