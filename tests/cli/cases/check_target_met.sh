# What solve gives meets the wishes that it was solved for.
cellar="--store examples/alder-lane-cellar.json --on 2026-11-25"
wortfit solve examples/my-amber.json $cellar --json >solved.json || exit
wortfit check solved.json --target examples/my-amber.json $cellar >out
code=$?
tail -n 1 out
exit $code
