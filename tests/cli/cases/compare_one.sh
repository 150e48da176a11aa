# One recipe cannot be compared.
wortfit compare examples/spring-bitter.json
