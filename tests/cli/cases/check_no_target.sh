# A target that is not known.
wortfit check examples/spring-bitter.json --target best-biter
