# Where it cannot be written, nothing is.
wortfit sheet examples/spring-bitter.json --html nowhere/sheet.html
