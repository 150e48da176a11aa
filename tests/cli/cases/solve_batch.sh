# The command line decides the batch, not the brewhouse.
wortfit solve german-pils --batch "40 L" --brewhouse examples/brewhouse-20l.json | head -n 1
