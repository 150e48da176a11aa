# The ranges for programs.
wortfit solve amber-ale --og 1.046..1.062 --colour "9..17 SRM" --ratio 0.35..0.9 --store examples/alder-lane-cellar.json --on 2026-11-25 --sure "80 %" --json |
    sed -n "/\"ranges\"/,/^  }/p"
# not under a prefix
