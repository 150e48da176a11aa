/* remedied.c: a remedy made to a problem of its own, as a brewer would read it. */
#include "support/refused.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>

/* What a brewer reads of the figure. */
static double as_read(enum wf_dimension d, double figure, enum wf_units units)
{
    char text[64], why[WF_REASON_MAX];
    wf_quantity_print(d, figure, units, text, sizeof text);
    if (!wf_quantity_parse(d, text, &figure, why))
        fprintf(stderr, "\"%s\" cannot be read: %s\n", text, why), abort();
    return figure;
}

/* One last digit of what is written of such a figure. */
static double digit(enum wf_dimension d, double figure, enum wf_units units)
{
    const double oz = WF_KG_PER_OZ, g = 0.001;
    static const double digits[WF_DIM_COUNT] = {
        [WF_DIM_GRAVITY] = 0.001,  [WF_DIM_SHARE] = 0.001, [WF_DIM_BEER_COLOUR] = 0.1,
        [WF_DIM_BITTERNESS] = 0.1, [WF_DIM_DIASTATIC] = 1, [WF_DIM_NUMBER] = 0.01,
    };
    if (d == WF_DIM_MASS && units == WF_UNITS_US)
        return figure < 15.995 * oz ? 0.01 * oz : 0.1 * oz;
    if (d == WF_DIM_MASS)
        return figure < g ? 0.01 * g : figure < 100 * g ? 0.1 * g : g;
    if (d == WF_DIM_DOSE)
        return units == WF_UNITS_US ? oz / WF_L_PER_US_GAL : 0.01;
    return digits[d];
}

static bool is_whole(const struct wf_demand *d)
{
    return d->kind == WF_DEMAND_COUNT || d->kind == WF_DEMAND_VARIETIES;
}

struct refused refused_remedied(const struct refused *given, const struct wf_remedy *m,
                                enum wf_units units, size_t less)
{
    struct refused r = refused_make(given->seed, given->tiny);
    for (size_t i = m->shift_count; i-- > 0;) { /* places in lists stay */
        const struct wf_shift *s = &m->shifts[i];
        enum wf_dimension d =
            s->demand.kind == WF_DEMAND_USUAL_SHARES ? WF_DIM_SHARE : s->demand.dimension;
        double to = isnan(s->to) ? s->to : as_read(d, s->to, units);
        double more = isnan(s->more) ? s->more : as_read(d, s->more, units);
        double step = is_whole(&s->demand) || s->demand.kind == WF_DEMAND_YEASTS
                          ? 1
                          : digit(d, isnan(more) ? to : more, units);
        if (i == less) {
            to += s->demand.end == WF_END_LEAST ? step : -step;
            more -= step;
        }
        refused_shift(&r, s, to, more);
    }
    return r;
}
