# In US units the batch goes by tenths of a gallon.
wortfit solve examples/my-amber.json --batch largest --store examples/alder-lane-cellar.json --on 2026-11-25 \
    --units us | head -n 1
# not under a prefix
