wortfit help learn
