/* fermentation.c: extract to alcohol after Balling, and the enzymes' scales. */
#include "wortfit/brewing.h"

#include "brewing/range.h"

#define ORIGINAL_MOST 36.0 /* P */
/* Apparent extract of beer is below that of water: alcohol is lighter. */
#define APPARENT_LEAST (-10.0)

enum wf_status wf_residual_share(double attenuation, double fermentability, bool sugar,
                                 double *share)
{
    if (!wf_within(attenuation, 0, 1) || !wf_within(fermentability, 0, 1.3))
        return WF_OUT_OF_RANGE;
    double fermented = sugar ? fermentability : WF_BALLING_APPARENT * attenuation * fermentability;
    *share = fermented < 1 ? 1 - fermented : 0;
    return WF_OK;
}

enum wf_status wf_real_extract(double original, double apparent, double *real)
{
    if (!wf_within(original, 0, ORIGINAL_MOST) ||
        !wf_within(apparent, APPARENT_LEAST, ORIGINAL_MOST))
        return WF_OUT_OF_RANGE;
    *real = WF_BALLING_ORIGINAL * original + WF_BALLING_APPARENT * apparent;
    return WF_OK;
}

enum wf_status wf_apparent_extract(double original, double real, double *apparent)
{
    if (!wf_within(original, 0, ORIGINAL_MOST) || !wf_within(real, APPARENT_LEAST, ORIGINAL_MOST))
        return WF_OUT_OF_RANGE;
    *apparent = (real - WF_BALLING_ORIGINAL * original) / WF_BALLING_APPARENT;
    return WF_OK;
}

/* Balling: 2.0665 g of extract give 1 g of alcohol, 0.9565 g of carbon dioxide, 0.11 g of yeast. */
enum wf_status wf_alcohol_by_weight(double original, double real, double *abw)
{
    if (!wf_within(original, 0, ORIGINAL_MOST) || !wf_within(real, APPARENT_LEAST, original))
        return WF_OUT_OF_RANGE;
    *abw = (original - real) / (2.0665 - 0.010665 * original) / 100;
    return WF_OK;
}

/* 0.791: specific gravity of ethanol, 20 C/20 C. */
enum wf_status wf_alcohol_by_volume(double abw, double final_gravity, double *abv)
{
    if (!wf_within(abw, 0, 1) || !wf_within(final_gravity, WF_GRAVITY_LEAST, WF_GRAVITY_MOST))
        return WF_OUT_OF_RANGE;
    *abv = abw * final_gravity / 0.791;
    return WF_OK;
}

/* Windisch-Kolbach and Lintner: The Oxford Companion to Beer. A malt without enzymes has 0 on both
 * scales, although the line does not pass there. */
double wf_lintner_from_wk(double wk)
{
    return wk <= 0 ? 0 : (wk + 16) / 3.5;
}

double wf_wk_from_lintner(double lintner)
{
    double wk = 3.5 * lintner - 16;
    return wk < 0 ? 0 : wk;
}
