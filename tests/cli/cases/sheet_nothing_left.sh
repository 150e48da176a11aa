# A small batch on a system that loses more than it is.
cat >leaky.json <<END
{ "brewhouse": "Leaky", "batch": "20 L", "fermenter_loss": "25 L" }
END
wortfit sheet examples/spring-bitter.json --brewhouse leaky.json
