# A column that no lot has.
cp examples/small-cellar.json mine.json
printf 'id,amount,prise\ncascade,40 g,1\n' >order.csv
wortfit stock mine.json import order.csv
