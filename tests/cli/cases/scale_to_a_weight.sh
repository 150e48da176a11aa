# A batch is a volume.
wortfit scale examples/last-autumn-amber.json --batch '40 kg'
