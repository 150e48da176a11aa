# All commands.
wortfit help
