# Its page.
wortfit help scale
