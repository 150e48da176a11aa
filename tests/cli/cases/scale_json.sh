# For programs: a recipe again, with what was kept as its wishes.
wortfit scale examples/spring-bitter.json --batch '5 gal' --json
