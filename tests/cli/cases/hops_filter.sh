# By origin, purpose and alpha acid.
wortfit hops --origin germany --for bittering --alpha ">= 12 %"
