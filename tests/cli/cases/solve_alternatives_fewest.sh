# By another goal: its values, and what each costs beside the first.
wortfit solve german-pils --goal fewest,cost --alternatives 2 --units us | sed -n '/^Alternatives/,$p'
# not under a prefix
