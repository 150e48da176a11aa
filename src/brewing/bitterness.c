/* bitterness.c: how much of the alpha acid ends as bitterness, and how much is left of it. */
#include "wortfit/brewing.h"

#include "base/try.h"
#include "brewing/range.h"

#define BOIL_MOST   240.0  /* min */
#define STAND_MOST  1440.0 /* min: a wort left to cool over night */
#define KELVIN_AT_0 273.15

/* G. Tinseth, Glenn's Hop Utilization Numbers, 1995-97: "bigness" of the wort times the curve of
 * the boil, whose 4.15 sets the greatest utilisation. */
static double tinseth(double boil_gravity, double minutes)
{
    double bigness = 1.65 * pow(0.000125, boil_gravity - 1);
    return bigness * (1 - exp(-0.04 * minutes)) / 4.15;
}

/* J. Rager, Calculating Hop Bitterness in Beer, Zymurgy 13(4), 1990: his table, smoothed by the
 * hyperbolic tangent in common use; the gravity correction with 1.050 for the misprinted .050. */
static double rager(double boil_gravity, double minutes)
{
    double percent = 18.11 + 13.86 * tanh((minutes - 31.32) / 18.27);
    double correction = boil_gravity > 1.050 ? (boil_gravity - 1.050) / 0.2 : 0;
    return minutes > 0 ? percent / 100 / (1 + correction) : 0;
}

static double (*const utilisation_law[])(double, double) = {
    [WF_TINSETH] = tinseth,
    [WF_RAGER] = rager,
};

enum wf_status wf_utilisation(enum wf_utilisation_law law, double boil_gravity, double minutes,
                              double *share)
{
    if ((size_t)law >= WF_COUNT_OF(utilisation_law) ||
        !wf_within(boil_gravity, 1, WF_GRAVITY_MOST) || !wf_within(minutes, 0, BOIL_MOST))
        return WF_OUT_OF_RANGE;
    *share = utilisation_law[law](boil_gravity, minutes);
    return WF_OK;
}

/* M.G. Malowicki and T.H. Shellhammer, J. Agric. Food Chem. 53, 2005: alpha to iso-alpha acid,
 * first order, activation energy 98.6 kJ/mol. */
static double isomerisation_law(double celsius)
{
    return 7.9e11 * exp(-11858 / (celsius + KELVIN_AT_0));
}

enum wf_status wf_isomerisation_rate(double celsius, double *per_minute)
{
    if (!wf_within(celsius, 0, 130))
        return WF_OUT_OF_RANGE;
    *per_minute = isomerisation_law(celsius);
    return WF_OK;
}

enum wf_status wf_stand_boil_minutes(double minutes, double celsius, double *boil_minutes)
{
    double rate;
    if (!wf_within(minutes, 0, STAND_MOST))
        return WF_OUT_OF_RANGE;
    WF_TRY(wf_isomerisation_rate(celsius, &rate));
    *boil_minutes = minutes * rate / isomerisation_law(100);
    return WF_OK;
}

/* M. Garetz, Hop Storage, BrewingTechniques 2(1), 1994; the factors for packing are from memory. */
static const double packing_factor[] = {
    [WF_PACKED_OPEN] = 1.0,
    [WF_PACKED_SEALED] = 0.75,
    [WF_PACKED_VACUUM] = 0.5,
};

enum wf_status wf_alpha_after_storage(double alpha, double six_month_loss, double days,
                                      double celsius, enum wf_packing packing, double *left)
{
    if (!wf_within(alpha, 0, 1) || !wf_within(six_month_loss, 0, 0.95) ||
        !wf_within(days, 0, 3650) || !wf_within(celsius, -30, 40) ||
        (size_t)packing >= WF_COUNT_OF(packing_factor))
        return WF_OUT_OF_RANGE;
    double per_day = -log(1 - six_month_loss) / 180;
    double temperature_factor = exp2((celsius - 20) / 15); /* the rate halves every 15 C down */
    *left = alpha * exp(-per_day * temperature_factor * packing_factor[packing] * days);
    return WF_OK;
}

/* IBU over gravity points: R. Daniels, Designing Great Beers, 1996. */
enum wf_status wf_bitterness_ratio(double ibu, double sg, double *ratio)
{
    if (!wf_within(ibu, 0, HUGE_VAL) || !wf_within(sg, 1, WF_GRAVITY_MOST) || sg == 1)
        return WF_OUT_OF_RANGE;
    return wf_give(ibu / wf_points(sg), ratio);
}
