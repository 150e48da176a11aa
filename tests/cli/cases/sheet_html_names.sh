# A file that is no HTML is not written over; - prints, alone.
wortfit sheet examples/spring-bitter.json --html examples/spring-bitter.json
wortfit sheet examples/spring-bitter.json --html - --json
wortfit sheet examples/spring-bitter.json --html - | head -n 1
