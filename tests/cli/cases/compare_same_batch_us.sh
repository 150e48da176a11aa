# One batch: weights, in US units.
wortfit scale examples/last-autumn-amber.json --batch '22 L' --json >amber.json
wortfit compare amber.json examples/spring-bitter.json --units us
