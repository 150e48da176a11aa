/* water.c: volumes of wort, and what happens to its gravity when water goes or comes. */
#include "wortfit/process.h"

#include "base/try.h"
#include "brewing/range.h"
#include "wortfit/brewing.h"

#define SHRINKAGE_MOST 0.2
#define SOLUBLE_LEAST  1.001 /* below, the quotient of differences loses its digits */

static bool is_volume(double litres)
{
    return wf_within(litres, 0, HUGE_VAL) && litres > 0;
}

enum wf_status wf_hot_litres(double cooled_l, double shrinkage, double *hot_l)
{
    if (!wf_within(cooled_l, 0, HUGE_VAL) || !wf_within(shrinkage, 0, SHRINKAGE_MOST))
        return WF_OUT_OF_RANGE;
    return wf_give(cooled_l / (1 - shrinkage), hot_l);
}

/* A litre of wort holds extract and water; what the water does not fill, the extract does. */
enum wf_status wf_extract_litres_per_kg(double sg, double *l_per_kg)
{
    double extract;
    if (!wf_within(sg, SOLUBLE_LEAST, WF_GRAVITY_MOST))
        return WF_OUT_OF_RANGE;
    WF_TRY(wf_extract_from_gravity(sg, &extract));
    double water_l = (sg * WF_WATER_KG_PER_L - extract) / WF_WATER_KG_PER_L;
    *l_per_kg = (1 - water_l) / extract;
    return WF_OK;
}

enum wf_status wf_gravity_at_volume(double sg, double from_l, double to_l, double *out)
{
    double extract;
    if (!is_volume(from_l) || !is_volume(to_l))
        return WF_OUT_OF_RANGE;
    WF_TRY(wf_extract_from_gravity(sg, &extract));
    return wf_gravity_from_extract(extract * (from_l / to_l), out);
}

enum wf_status wf_volume_at_gravity(double sg, double litres, double wanted, double *out)
{
    double extract, density;
    if (!is_volume(litres))
        return WF_OUT_OF_RANGE;
    WF_TRY(wf_extract_from_gravity(sg, &extract));
    WF_TRY(wf_extract_from_gravity(wanted, &density));
    if (!(extract > 0) || !(density > 0)) /* the fit is 0 at 1.00001, not at 1 */
        return WF_OUT_OF_RANGE;
    return wf_give(litres * extract / density, out);
}

/* x kg bring x yield of extract and as many litres as that takes: extract + x yield =
 * density (litres + x yield v). */
enum wf_status wf_extract_to_add(double extract_kg, double litres, double wanted, double yield,
                                 double *kg)
{
    double density, per_kg;
    if (!wf_within(extract_kg, 0, HUGE_VAL) || !is_volume(litres) || !wf_within(yield, 0, 1) ||
        yield == 0)
        return WF_OUT_OF_RANGE;
    WF_TRY(wf_extract_from_gravity(wanted, &density));
    WF_TRY(wf_extract_litres_per_kg(wanted, &per_kg));
    double missing = density * litres - extract_kg;
    return wf_give(missing > 0 ? missing / (yield * (1 - density * per_kg)) : 0, kg);
}
