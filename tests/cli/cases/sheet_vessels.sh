# High up, in a cold tun, with vessels that are too small for it: what to mind, and what would fit.
cat >hill.json <<END
{ "brewhouse": "Hill kitchen", "batch": "20 L", "kettle": "22 L", "fermenter": "21 L",
  "altitude": "2400 m", "kettle_loss": "1 L",
  "mash": { "tun": "18 L", "tun_heat": "1.2 L", "dead_space": "1 L", "grain": "12 C" } }
END
wortfit sheet examples/last-autumn-amber.json --brewhouse hill.json
