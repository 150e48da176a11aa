# Of some kinds, by a part of the name.
wortfit stock examples/alder-lane-cellar.json list --kind malt,hop --word will --on 2026-11-25
wortfit stock examples/alder-lane-cellar.json --word 'crystal malt' --on 2026-11-25
