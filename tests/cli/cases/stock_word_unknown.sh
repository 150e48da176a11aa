# What stock can do.
wortfit stock examples/small-cellar.json ad cascade
wortfit stock examples/small-cellar.json drink cascade
