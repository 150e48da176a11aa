# All that is wrong with a table, at once; the store is untouched.
cp examples/small-cellar.json mine.json
printf 'kind,id,have,alpha,packed\nmalt,pilsner-malt,5,,\nhop,cascade,40 g,61 %%,2026-02-30\n,nobody,1 kg,,\nmalt,crystal-60,1 kg,5 %%,\n' >order.csv
wortfit stock mine.json import order.csv
status=$?
cmp examples/small-cellar.json mine.json
exit $status
