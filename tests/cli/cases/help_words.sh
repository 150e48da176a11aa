# A command without operands.
wortfit help words
