# Nothing can be both.
wortfit solve amber-ale --use cascade --avoid centennial --avoid cascade
