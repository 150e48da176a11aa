# One command by the help command.
wortfit help solve
