# Options that go with another word are refused, all at once.
wortfit stock examples/small-cellar.json use cascade --have '3 g' --field a=b --word x --take '1 g'
wortfit stock examples/small-cellar.json add
wortfit stock examples/small-cellar.json set cascade
wortfit stock examples/small-cellar.json use cascade --recipe r.json
wortfit stock examples/small-cellar.json import x.csv --kind hop
wortfit stock examples/small-cellar.json set cascade --field have
