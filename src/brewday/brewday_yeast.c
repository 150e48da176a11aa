/* brewday_yeast.c: how much yeast, and how warm it works. */
#include "brewday/brewday_parts.h"

#include "base/try.h"

#include <math.h>
#include <string.h>

/* How much warmer a lager rests near its end, so that the yeast clears what tastes of butter:
 * common practice. */
#define LAGER_REST_C 3.0

static const struct {
    const char *family;
    double rate;
    bool lager;
} family_row[] = {
    {"lager", WF_PITCH_LAGER, true},
    {"hybrid-lager", WF_PITCH_COOL, true},
    {"hybrid-ale", WF_PITCH_COOL, false},
};

static void set_family(const char *family, struct wf_brewday_yeast *y)
{
    y->rate = WF_PITCH_ALE;
    for (size_t i = 0; i < WF_COUNT_OF(family_row); i++)
        if (family && strcmp(family, family_row[i].family) == 0) {
            y->rate = family_row[i].rate;
            y->lager = family_row[i].lager;
        }
}

/* All the gas of the fermentation, kept or not. */
static enum wf_status set_gas(const struct wf_planning *p, struct wf_brewday_yeast *y)
{
    const struct wf_beer *b = &p->recipe->predicted;
    double volumes;
    y->gas_l = (double)NAN;
    if (isnan(b->fg))
        return WF_OK;
    WF_TRY(wf_co2_from_gravity(b->og, b->fg, &volumes));
    y->gas_l = volumes * p->day->water.fermenter_l;
    return WF_OK;
}

enum wf_status wf_plan_yeast(struct wf_planning *p)
{
    struct wf_brewday_yeast *y = &p->day->yeast;
    const struct wf_recipe *r = p->recipe;
    y->known = !isnan(r->yeast.attenuation);
    y->celsius_low = y->celsius_high = y->alcohol_most = (double)NAN;
    y->warm_celsius = (double)NAN;
    set_family(r->yeast.family, y);
    if (p->yeast) {
        y->celsius_low = p->yeast->celsius_low;
        y->celsius_high = p->yeast->celsius_high;
        y->alcohol_most = p->yeast->alcohol_most;
        y->eats_dextrins = p->yeast->eats_dextrins;
        if (y->lager)
            y->warm_celsius = y->celsius_high + LAGER_REST_C;
    }
    double plato = fmax(r->predicted.plato, 0);
    WF_TRY(wf_pitch_billion(y->rate, p->day->water.fermenter_l, plato, &y->billion));
    y->dry_g = y->billion / WF_CELLS_PER_G;
    y->slurry_l = y->billion / WF_CELLS_PER_ML / 1000;
    return set_gas(p, y);
}
