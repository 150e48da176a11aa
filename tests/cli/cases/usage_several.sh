wortfit solve amber-ale --alternatives 3 --trade cost,fewest
