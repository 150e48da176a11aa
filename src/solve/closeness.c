#include "solve/closeness.h"

#include <math.h>

typedef enum wf_status law(double figure, double *linear);

static enum wf_status as_it_is(double figure, double *linear)
{
    *linear = figure;
    return WF_OK;
}

/* A side of no width, or without an end, is measured in the other's units: see wf_aim_row. */
static double in_sides(double got, double aim, double low, double high)
{
    double below = aim - low, above = high - aim;
    double side = got < aim ? (isfinite(below) && below > 0 ? below : above)
                            : (isfinite(above) && above > 0 ? above : below);
    return fabs(got - aim) / (isfinite(side) && side > 0 ? side : 1);
}

static double distance(double got, struct wf_range wanted, law *linear)
{
    double at[] = {got, wanted.aim, wanted.low, wanted.high};
    if (!isfinite(wanted.aim))
        return 0;
    for (int i = 0; i < 4; i++)
        if (isfinite(at[i]) && linear(at[i], &at[i]) != WF_OK)
            return NAN;
    return in_sides(at[0], at[1], at[2], at[3]);
}

double wf_closeness(const struct wf_target *t, const struct wf_beer *b)
{
    double bitter = wf_range_is_any(t->ratio) ? distance(b->ibu, t->bitterness, as_it_is)
                                              : distance(b->ratio, t->ratio, as_it_is);
    return distance(b->og, t->og, wf_extract_from_gravity) +
           distance(b->srm, t->colour, wf_mcu_from_srm) + bitter;
}
