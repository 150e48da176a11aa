# A bit more toast, the least change; both glasses, and the proof.
wortfit adjust examples/last-autumn-amber.json --more toast --on 2026-11-25
