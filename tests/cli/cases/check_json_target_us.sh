# The wishes in JSON are metric in any units.
wortfit check examples/spring-bitter.json --target examples/my-amber.json --units us --json >out
code=$?
sed -n '/"wishes"/,$p' out
exit $code
