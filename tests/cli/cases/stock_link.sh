# A link stays a link: the file that it leads to is changed.
cp examples/small-cellar.json mine.json
ln -s mine.json link.json
wortfit stock link.json use cascade --take '30 g' --on 2026-11-25 >/dev/null
[ -L link.json ] && diff examples/small-cellar.json mine.json || true
