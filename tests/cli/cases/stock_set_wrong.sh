# A figure that cannot be is refused, with what would be right.
cp examples/small-cellar.json mine.json
wortfit stock mine.json set cascade --have 85 --alpha '61 %' --packed 2026-02-30
status=$?
cmp examples/small-cellar.json mine.json
exit $status
