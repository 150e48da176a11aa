/* brewday_run_off.c: how strong the wort runs off, how much of the extract comes, and the mash-out.
 */
#include "brewday/brewday_parts.h"

#include "base/try.h"

#include <math.h>

/* Sparging only thins: no wort from the mash is stronger than its first runnings. */
static enum wf_status check_strength(struct wf_planning *p, double in_malt, double in_kettle)
{
    const struct wf_brewday_water *w = &p->day->water;
    double most, sg, plato;
    WF_TRY(wf_first_runnings(in_malt, w->mash_l, &most));
    WF_TRY(wf_gravity_from_extract(in_kettle / (w->before_boil_l - w->early_l), &sg));
    WF_TRY(wf_plato_from_gravity(sg, &plato));
    p->day->mash.too_strong = plato > most;
    return WF_OK;
}

/* What the mash can give, by the same water, and the wort that comes of it. */
static enum wf_status plan_reach(struct wf_planning *p, double in_malt, double in_kettle)
{
    const struct wf_brewday_water *w = &p->day->water;
    struct wf_brewday_mash *m = &p->day->mash;
    double per_kg, drained, all, added;
    WF_TRY(wf_extract_litres_per_kg(fmax(p->recipe->predicted.og, WF_WORT_LEAST), &per_kg));
    WF_TRY(wf_drained(w->mash_l, w->sparge_l, w->absorbed_l + w->dead_l,
                      in_malt * WF_CONVERSION * per_kg, &drained));
    m->reach = WF_CONVERSION * drained;
    WF_TRY(wf_extract_from_gravity(p->recipe->predicted.og, &all));
    added = all * w->after_boil_l - in_kettle; /* by what is not mashed */
    if (wf_gravity_from_extract((in_malt * m->reach + added) / w->after_boil_l, &m->reach_sg) !=
        WF_OK)
        m->reach_sg = (double)NAN; /* an efficiency far below the reach: nothing is asked of it */
    return WF_OK;
}

/* Gravity of the first runnings; NaN where the mash is too thick for the law of gravity. */
static enum wf_status plan_first(struct wf_planning *p)
{
    struct wf_brewday *d = p->day;
    double kg, plato, sg;
    WF_TRY(wf_extract_of(p->recipe, WF_IN_MASH, &kg));
    double in_malt = kg / p->recipe->kettle.efficiency;
    double converted = fmax(WF_CONVERSION, p->recipe->kettle.efficiency);
    WF_TRY(wf_first_runnings(in_malt * converted, d->water.mash_l, &plato));
    WF_TRY(check_strength(p, in_malt, kg));
    WF_TRY(plan_reach(p, in_malt, kg));
    d->first_sg = wf_gravity_from_plato(plato, &sg) == WF_OK ? sg : (double)NAN;
    return WF_OK;
}

/* Whether the tun holds so much more water. */
static bool has_room(const struct wf_planning *p, double litres)
{
    const struct wf_brewday_mash *m = &p->day->mash;
    double filled = p->day->water.mash_l + WF_MALT_ROOM_L_KG * m->grain_kg + litres;
    return !(filled > p->brewhouse->tun_l); /* NaN: not told */
}

static void plan_out(struct wf_planning *p)
{
    struct wf_brewday_mash *m = &p->day->mash;
    const struct wf_brewday_water *w = &p->day->water;
    double litres;
    if (wf_infusion_litres(m->grain_kg, w->mash_l + m->tun_heat_l,
                           m->rests[m->rest_count - 1].celsius, WF_MASH_OUT_C, wf_hottest(p->day),
                           &litres) == WF_OK &&
        litres < w->sparge_l && has_room(p, litres))
        m->out_l = litres;
}

enum wf_status wf_plan_run_off(struct wf_planning *p)
{
    p->day->mash.out_l = (double)NAN;
    if (p->day->mash.grain_kg == 0)
        return WF_OK;
    plan_out(p);
    return plan_first(p);
}
