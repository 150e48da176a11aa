# All that is wrong is told at once.
wortfit solve --og 1055 --goal cheapest --on tomorrow --batch "20 kg" --store
