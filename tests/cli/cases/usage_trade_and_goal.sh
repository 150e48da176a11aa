wortfit solve amber-ale --trade cost,fewest --goal closest
