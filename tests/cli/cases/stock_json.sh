# For programs.
wortfit stock examples/small-cellar.json --json --on 2026-11-25
