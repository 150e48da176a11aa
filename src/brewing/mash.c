/* mash.c: the heat of a mash, and how strong its first runnings are. */
#include "wortfit/process.h"

#include "brewing/range.h"
#include "wortfit/brewing.h"

#define LEAST_C (-20.0)
#define MOST_C  100.0

static bool is_mash(double kg, double litres)
{
    return wf_within(kg, 0, HUGE_VAL) && wf_within(litres, 0, HUGE_VAL) && litres > 0;
}

static bool is_heat(double celsius)
{
    return wf_within(celsius, LEAST_C, MOST_C);
}

/* J. Palmer, How to Brew, ch. 16.3, where h/r has h = 0.2 and r in quarts a pound. */
enum wf_status wf_strike_celsius(double kg, double litres, double malt_celsius, double rest_celsius,
                                 double *celsius)
{
    if (!is_mash(kg, litres) || !is_heat(malt_celsius) || !is_heat(rest_celsius))
        return WF_OUT_OF_RANGE;
    return wf_give(WF_MALT_HEAT_L_KG * kg / litres * (rest_celsius - malt_celsius) + rest_celsius,
                   celsius);
}

enum wf_status wf_infusion_litres(double kg, double litres, double from_celsius, double to_celsius,
                                  double water_celsius, double *water_l)
{
    if (!is_mash(kg, litres) || !is_heat(from_celsius) || !is_heat(to_celsius) ||
        !is_heat(water_celsius))
        return WF_OUT_OF_RANGE;
    double change = to_celsius - from_celsius, reserve = water_celsius - to_celsius;
    if (change != 0 && change * reserve <= 0)
        return WF_OUT_OF_RANGE;
    return wf_give(change == 0 ? 0 : change / reserve * (WF_MALT_HEAT_L_KG * kg + litres), water_l);
}

enum wf_status wf_first_runnings(double extract_kg, double water_l, double *plato)
{
    if (!is_mash(extract_kg, water_l))
        return WF_OUT_OF_RANGE;
    return wf_give(100 * extract_kg / (extract_kg + water_l * WF_WATER_KG_PER_L), plato);
}

enum wf_status wf_tun_celsius(double tun_l, double litres, double tun_celsius, double rest_celsius,
                              double *more)
{
    if (!is_mash(tun_l, litres) || !is_heat(tun_celsius) || !is_heat(rest_celsius))
        return WF_OUT_OF_RANGE;
    double value = tun_l / litres * (rest_celsius - tun_celsius);
    if (!isfinite(value))
        return WF_OUT_OF_RANGE;
    *more = value;
    return WF_OK;
}

enum wf_status wf_drained(double water_l, double sparge_l, double kept_l, double extract_l,
                          double *share)
{
    if (!is_mash(kept_l, water_l) || !is_mash(sparge_l, water_l) || !is_mash(extract_l, water_l))
        return WF_OUT_OF_RANGE;
    double behind = fmin(kept_l, water_l) + extract_l;
    double left = behind / (water_l + extract_l);
    if (behind > 0)
        left *= behind / (behind + sparge_l);
    *share = 1 - left;
    return WF_OK;
}
