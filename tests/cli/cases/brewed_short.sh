# The stock does not reach: nothing is changed, and there is no log.
cp examples/small-cellar.json cellar.json
wortfit brewed examples/last-autumn-amber.json --store cellar.json --og 1.052 --volume '19.5 L'
status=$?
cmp examples/small-cellar.json cellar.json && ls
exit $status
