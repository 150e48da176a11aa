# What solve gives meets the wishes that it was solved for.
cellar="--store examples/alder-lane-cellar.json --on 2026-11-25"
wortfit solve amber-ale $cellar --json >solved.json || exit
wortfit check solved.json --target amber-ale $cellar >out
code=$?
tail -n 1 out | sed 's/[0-9][0-9]* wishes/wishes/'
exit $code
