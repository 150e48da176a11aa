# The model is a file that another solver can read.
wortfit solve german-pils --write-model model.lp >/dev/null
grep -cE "^(Minimize|Subject To|Bounds|Generals?|End)$" model.lp
