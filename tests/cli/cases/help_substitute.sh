# All about substitute.
wortfit help substitute
