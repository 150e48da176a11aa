# The help of plan.
wortfit help plan
