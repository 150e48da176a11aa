# In pounds and ounces.
wortfit stock examples/us-homebrew-corner.json --units us --on 2026-11-25
