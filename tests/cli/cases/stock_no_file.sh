# No such store, and a folder.
wortfit stock absent.json
wortfit stock absent.json remove cascade
wortfit stock . remove cascade
