# A folder that is not there: told, and nothing is left behind.
wortfit solve german-pils --write-model nowhere/model.lp
code=$?
ls
exit $code
