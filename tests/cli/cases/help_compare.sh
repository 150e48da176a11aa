# Its page.
wortfit help compare
