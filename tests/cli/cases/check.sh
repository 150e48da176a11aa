# A recipe typed by hand, by names alone: what it gives.
wortfit check examples/spring-bitter.json
