# Brewed on another system, in US units: its own batch stands.
wortfit check examples/spring-bitter.json --brewhouse examples/brewhouse-5gal.json --units us
