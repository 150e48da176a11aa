# For programs: the same weights as in the text.
wortfit solve german-pils --json | grep -E "^ *\"(recipe|status|id|kg|g|use)\""
