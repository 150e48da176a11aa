# Its page.
wortfit help check
