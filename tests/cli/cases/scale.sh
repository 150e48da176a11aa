# Twice the batch.
wortfit scale examples/last-autumn-amber.json --batch '40 L'
