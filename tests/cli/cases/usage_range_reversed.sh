# A range whose ends are the wrong way round.
wortfit solve amber-ale --og 1.060..1.050
