# For programs: whole recipes, each with what sets it apart.
wortfit solve german-pils --alternatives 3 --json | grep -E '"(status|apart|complete)"'
# not under a prefix
