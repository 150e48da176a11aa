# The help page of survey.
wortfit help survey
