# One operand too many.
wortfit solve amber-ale dry-stout
