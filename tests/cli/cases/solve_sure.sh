# A recipe whose ranges, not only their middles, are as wished.
wortfit solve amber-ale --og 1.046..1.062 --colour "9..17 SRM" --ratio 0.35..0.9 --store examples/alder-lane-cellar.json --on 2026-11-25 --sure "90 %" |
    grep -E "gravity|colour|ratio|brackets|alcohol|^Cost|cost"
# not under a prefix
