/* colour.c: from the colour of malts to the colour of beer, and between the scales. */
#include "wortfit/brewing.h"

#include "brewing/range.h"

/* D. Morey, Approximating SRM Beer Color of Homemade Beer, 1995. */
#define MOREY_FACTOR 1.4922
#define MOREY_POWER  0.6859

#define EBC_PER_SRM 1.97 /* beer: 25/12.7, rounded; ASBC Beer-10, EBC 9.6 */

/* Malt: SRM of the laboratory wort = 1.3546 Lov - 0.76; maltsters' comparison, from memory. */
#define MALT_SLOPE 1.3546
#define MALT_FOOT  0.76

#define SRM_MOST      170.0 /* of WF_MCU_MOST, rounded down */
#define MALT_EBC_MOST 2000.0

enum wf_status wf_mcu_from_weights(double kg_lovibond, double litres, double *mcu)
{
    if (!wf_within(kg_lovibond, 0, HUGE_VAL) || !wf_within(litres, 0, HUGE_VAL) || litres == 0)
        return WF_OUT_OF_RANGE;
    return wf_give(WF_MCU_KG_L_FACTOR * kg_lovibond / litres, mcu);
}

enum wf_status wf_srm_from_mcu(double mcu, double *srm)
{
    if (!wf_within(mcu, 0, WF_MCU_MOST))
        return WF_OUT_OF_RANGE;
    *srm = MOREY_FACTOR * pow(mcu, MOREY_POWER);
    return WF_OK;
}

enum wf_status wf_mcu_from_srm(double srm, double *mcu)
{
    if (!wf_within(srm, 0, SRM_MOST))
        return WF_OUT_OF_RANGE;
    *mcu = pow(srm / MOREY_FACTOR, 1 / MOREY_POWER);
    return WF_OK;
}

double wf_mcu_factor(double factor)
{
    return factor == 1 ? 1 : pow(factor, 1 / MOREY_POWER);
}

double wf_ebc_from_srm(double srm)
{
    return srm * EBC_PER_SRM;
}

double wf_srm_from_ebc(double ebc)
{
    return ebc / EBC_PER_SRM;
}

static double lovibond_line(double ebc)
{
    return (ebc / EBC_PER_SRM + MALT_FOOT) / MALT_SLOPE;
}

/* The line gives 0.56 Lov at 0 EBC, but what has no colour on one scale has none on the other. */
enum wf_status wf_lovibond_from_ebc(double ebc, double *lovibond)
{
    if (!wf_within(ebc, 0, MALT_EBC_MOST))
        return WF_OUT_OF_RANGE;
    *lovibond = ebc > 0 ? lovibond_line(ebc) : 0;
    return WF_OK;
}

enum wf_status wf_ebc_from_lovibond(double lovibond, double *ebc)
{
    if (!wf_within(lovibond, 0, lovibond_line(MALT_EBC_MOST)))
        return WF_OUT_OF_RANGE;
    double line = EBC_PER_SRM * (MALT_SLOPE * lovibond - MALT_FOOT);
    *ebc = line > 0 ? line : 0;
    return WF_OK;
}
