# All about adjust.
wortfit help adjust
