/* height.c: thinner air: where water boils, and what follows. */
#include "wortfit/process.h"

#include "brewing/range.h"

#define LEAST_M (-500.0)
#define MOST_M  6000.0

#define LEAST_BAR 0.4
#define MOST_BAR  1.1

#define MMHG_PER_BAR (760 / WF_AIR_BAR)
#define M_PER_FT     0.3048

enum wf_status wf_air_bar(double height_m, double *bar)
{
    if (!wf_within(height_m, LEAST_M, MOST_M))
        return WF_OUT_OF_RANGE;
    *bar = WF_AIR_BAR * pow(1 - 0.0065 * height_m / 288.15, 5.25588);
    return WF_OK;
}

enum wf_status wf_boiling_celsius(double air_bar, double *celsius)
{
    if (!wf_within(air_bar, LEAST_BAR, MOST_BAR))
        return WF_OUT_OF_RANGE;
    *celsius = 1730.63 / (8.07131 - log10(air_bar * MMHG_PER_BAR)) - 233.426;
    return WF_OK;
}

enum wf_status wf_height_bitterness(double height_m, double *share)
{
    if (!wf_within(height_m, LEAST_M, MOST_M))
        return WF_OUT_OF_RANGE;
    double factor = 1 + 0.02 * fmax(height_m, 0) / M_PER_FT / 550;
    *share = 1 - 1 / factor;
    return WF_OK;
}
