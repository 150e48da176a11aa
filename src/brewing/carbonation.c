/* carbonation.c: carbon dioxide in beer: what is left, what sugar gives, what it presses. */
#include "wortfit/process.h"

#include "base/try.h"
#include "brewing/range.h"
#include "wortfit/brewing.h"

#define RESIDUAL_MOST_C 27.0
#define PRESSURE_MOST_C 40.0
#define VOLUMES_MOST    10.0
#define AIR_LEAST_BAR   0.4
#define AIR_MOST_BAR    1.1
#define BAR_PER_PSI     0.0689475729 /* NIST SP 811 */

/* Balling: g of CO2 from a g of extract that ferments. */
#define CO2_PER_EXTRACT (0.9565 / 2.0665)

static double fahrenheit(double celsius)
{
    return celsius * 1.8 + 32;
}

enum wf_status wf_residual_co2(double celsius, double *volumes)
{
    if (!wf_within(celsius, 0, RESIDUAL_MOST_C))
        return WF_OUT_OF_RANGE;
    double f = fahrenheit(celsius);
    *volumes = 3.0378 - 0.050062 * f + 0.00026555 * f * f;
    return WF_OK;
}

/* g of CO2 from a g of what is weighed: molar masses, and for malt extract Balling's law. */
static const double co2_per_g[] = {
    [WF_SUCROSE] = 176.04 / 342.30,
    [WF_DEXTROSE] = 88.02 / 198.17,
    [WF_DRY_EXTRACT] = 0.95 * 0.75 * WF_BALLING_APPARENT * CO2_PER_EXTRACT,
};

enum wf_status wf_priming_g_per_l(enum wf_priming sugar, double *g_per_l)
{
    if ((size_t)sugar >= WF_COUNT_OF(co2_per_g))
        return WF_OUT_OF_RANGE;
    *g_per_l = WF_CO2_G_PER_L / co2_per_g[sugar];
    return WF_OK;
}

/* The apparent extract that goes, by weight in a litre, ferments 0.8192 of itself really. */
enum wf_status wf_co2_from_gravity(double from_sg, double to_sg, double *volumes)
{
    double from, to;
    if (!(to_sg <= from_sg))
        return WF_OUT_OF_RANGE;
    WF_TRY(wf_extract_from_gravity(from_sg, &from));
    WF_TRY(wf_extract_from_gravity(to_sg, &to));
    *volumes = 1000 * (from - to) * WF_BALLING_APPARENT * CO2_PER_EXTRACT / WF_CO2_G_PER_L;
    return WF_OK;
}

enum wf_status wf_co2_bar(double volumes, double celsius, double air_bar, double *bar)
{
    if (!wf_within(volumes, 0, VOLUMES_MOST) || !wf_within(celsius, 0, PRESSURE_MOST_C) ||
        !wf_within(air_bar, AIR_LEAST_BAR, AIR_MOST_BAR))
        return WF_OUT_OF_RANGE;
    double soluble = 0.01821 + 0.090115 * exp(-(fahrenheit(celsius) - 32) / 43.11);
    double above = (volumes + 0.003342) / soluble * BAR_PER_PSI - air_bar;
    *bar = above > 0 ? above : 0;
    return WF_OK;
}
