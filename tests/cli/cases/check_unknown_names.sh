# All names that are not known, each with the nearest that is.
wortfit check - <<END
{ "recipe": "A slip of the pen",
  "malts": [ { "name": "Viena malt", "weight": "4 kg" }, { "id": "crystl-40", "weight": "250 g" } ],
  "hops": [ { "name": "Cascada", "weight": "40 g", "at": "60 min" } ],
  "yeast": { "name": "Clean American yeast" } }
END
