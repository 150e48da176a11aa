# By family and attenuation.
wortfit yeasts --family lager,hybrid-lager --attenuation ">= 78 %"
