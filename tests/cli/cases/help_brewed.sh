wortfit help brewed
