# A slip of the pen is put right by another line of the log; the stock stays as it is.
cp examples/alder-lane-cellar.json cellar.json
brewed() { wortfit brewed examples/last-autumn-amber.json --store cellar.json "$@"; }
brewed --og 1.062 --volume '19.5 L' --on 2026-11-25 >/dev/null
cp cellar.json once.json
brewed --later --og 1.052 --volume '18.5 L' --left '1 L'
cmp cellar.json once.json
sed -n 2p cellar.brews.jsonl
wortfit learn cellar.brews.jsonl | sed -n 4p
brewed --later --og 1.052 --volume '18.5 L' --left '1 L'
brewed --later
brewed --later --left '1 L' --used magnum=20g --again
brewed --later --og 1.150
