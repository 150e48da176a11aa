# A part of the name, in US units, by name.
wortfit survey ipa --store examples/alder-lane-cellar.json --on 2026-11-25 --units us --sort name
