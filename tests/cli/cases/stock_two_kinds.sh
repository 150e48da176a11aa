# An id of two kinds needs the kind.
cp examples/small-cellar.json mine.json
wortfit stock mine.json add same --is crystal-60 --have '1 kg' >/dev/null
wortfit stock mine.json add same --kind hop --field is=cascade --have '10 g' >/dev/null
wortfit stock mine.json use same --take '1 g' --kind hop --on 2026-11-25
wortfit stock mine.json use same --take '1 g'
