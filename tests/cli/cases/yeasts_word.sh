# By what they taste of, and a shortened command.
wortfit y --word clove
