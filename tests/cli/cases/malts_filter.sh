# By class and colour.
wortfit malts --class caramel,roast --colour "100..250 Lov"
