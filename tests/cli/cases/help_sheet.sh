# The page of a command: sheet.
wortfit help sheet
