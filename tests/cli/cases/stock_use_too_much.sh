# More than there is: refused, and the file is untouched.
cp examples/small-cellar.json mine.json
wortfit stock mine.json use cascade --take '2 oz'
status=$?
cmp examples/small-cellar.json mine.json
exit $status
