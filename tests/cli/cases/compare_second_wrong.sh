# What is wrong with the second recipe.
echo '{"recipe": 7}' >wrong.json; wortfit compare examples/spring-bitter.json wrong.json
