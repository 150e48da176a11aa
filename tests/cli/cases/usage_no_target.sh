# The operand is missing.
wortfit solve --json
