# Held against another beer, it says what it misses; files of another kind are told as such.
wortfit sheet examples/spring-bitter.json --target amber-ale | sed -n '5,7p'
wortfit sheet examples/my-amber.json
wortfit sheet examples/spring-bitter.json --brewhouse examples/small-cellar.json
wortfit learn examples/small-cellar.json 2>&1 | tail -n 1
