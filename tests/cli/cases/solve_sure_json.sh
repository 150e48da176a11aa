# The ranges for programs.
wortfit solve german-pils --brewhouse examples/brewhouse-20l.json --sure "30 %" --json | sed -n "/\"ranges\"/,/}\$/p;/% range/p"
