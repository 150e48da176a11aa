/* brewday_water.c: how much water, and where it goes. */
#include "brewday/brewday_parts.h"

#include "base/try.h"

#include <math.h>

enum wf_way_in wf_way_in(const struct wf_recipe *r, const struct wf_recipe_malt *m)
{
    bool other = false;
    for (size_t i = 0; i < r->malt_count; i++)
        other = other || r->malts[i].grain.mashed || r->malts[i].class != WF_CLASS_SUGAR;
    if (m->grain.mashed)
        return WF_IN_MASH;
    return m->class == WF_CLASS_SUGAR && other ? WF_IN_LATE : WF_IN_EARLY;
}

enum wf_status wf_extract_of(const struct wf_recipe *r, enum wf_way_in way, double *kg)
{
    double sum = 0, per_kg;
    for (size_t i = 0; i < r->malt_count; i++) {
        if (wf_way_in(r, &r->malts[i]) != way)
            continue;
        WF_TRY(wf_extract_per_kg(&r->malts[i].grain, &r->kettle, &per_kg));
        sum += r->malts[i].kg * per_kg;
    }
    *kg = sum;
    return WF_OK;
}

/* Litres that what is not mashed adds: its extract, and the water in a syrup. */
static enum wf_status litres_of(const struct wf_recipe *r, enum wf_way_in way, double *litres)
{
    double sum = 0, per_kg;
    WF_TRY(wf_extract_litres_per_kg(fmax(r->predicted.og, WF_WORT_LEAST), &per_kg));
    for (size_t i = 0; i < r->malt_count; i++) {
        const struct wf_recipe_malt *m = &r->malts[i];
        if (wf_way_in(r, m) == way)
            sum += m->kg * (m->grain.yield * per_kg + (1 - m->grain.yield) / WF_WATER_KG_PER_L);
    }
    *litres = sum;
    return WF_OK;
}

static double mashed_kg(const struct wf_recipe *r)
{
    double kg = 0;
    for (size_t i = 0; i < r->malt_count; i++)
        kg += r->malts[i].grain.mashed ? r->malts[i].kg : 0;
    return kg;
}

static double dry_hops_kg(const struct wf_recipe *r)
{
    double grams = 0;
    for (size_t i = 0; i < r->hop_count; i++)
        grams += r->hops[i].addition.use == WF_HOP_DRY ? r->hops[i].grams : 0;
    return grams / 1000;
}

static double stepped(const struct wf_planning *p, double litres)
{
    double step = p->options->volume_step_l;
    return step > 0 ? round(litres / step) * step : litres;
}

/* From the end of the boil back to the tap. */
static enum wf_status fill_kettle(const struct wf_planning *p, struct wf_brewday_water *w)
{
    const struct wf_kettle *k = &p->recipe->kettle;
    double early, late;
    WF_TRY(litres_of(p->recipe, WF_IN_EARLY, &early));
    WF_TRY(litres_of(p->recipe, WF_IN_LATE, &late));
    w->early_l = stepped(p, early);
    w->late_l = stepped(p, late);
    w->after_boil_l = stepped(p, k->batch_l);
    w->evaporated_l = stepped(p, k->evaporation_l_h * k->boil_minutes / 60);
    w->before_boil_l = w->after_boil_l + w->evaporated_l - w->late_l;
    WF_TRY(wf_hot_litres(w->before_boil_l, p->brewhouse->shrinkage, &w->before_hot_l));
    return wf_hot_litres(w->after_boil_l, p->brewhouse->shrinkage, &w->after_hot_l);
}

/* What the tun holds beside the grain, but no mash so thick that it cannot be stirred. */
static double liquor_most(const struct wf_planning *p, double kg, double dead_l)
{
    double room = WF_TUN_FULL * p->brewhouse->tun_l - WF_MALT_ROOM_L_KG * kg;
    return isnan(room) ? HUGE_VAL : fmax(room, WF_MASH_LEAST_L_KG * kg + dead_l);
}

static void fill_mash(const struct wf_planning *p, struct wf_brewday_water *w)
{
    double kg = mashed_kg(p->recipe);
    w->absorbed_l = stepped(p, kg * p->brewhouse->absorption_l_kg);
    w->dead_l = kg > 0 ? stepped(p, p->brewhouse->dead_space_l) : 0;
    double all = w->before_boil_l - w->early_l + w->absorbed_l + w->dead_l;
    double wanted = kg * p->brewhouse->mash_l_kg + w->dead_l;
    double liquor = stepped(p, fmin(wanted, liquor_most(p, kg, w->dead_l)));
    p->day->mash.held_back = liquor < all && liquor < stepped(p, wanted);
    w->mash_l = kg > 0 && liquor > 0 && liquor < all ? liquor : all;
    w->sparge_l = all - w->mash_l;
    double runs_off = w->mash_l - w->absorbed_l - w->dead_l;
    w->first_runnings_l = kg > 0 && runs_off > 0 ? runs_off : 0;
    p->day->mash.grain_kg = kg;
    p->day->mash.thin = kg > 0 && w->sparge_l == 0;
}

static void fill_fermenter(const struct wf_planning *p, struct wf_brewday_water *w)
{
    w->kettle_loss_l = stepped(p, p->brewhouse->kettle_loss_l);
    w->fermenter_l = w->after_boil_l - w->kettle_loss_l;
    w->fermenter_loss_l = stepped(p, p->brewhouse->fermenter_loss_l);
    w->dry_hops_l = stepped(p, dry_hops_kg(p->recipe) * WF_DRY_HOPS_KEEP_L_KG);
    w->packaged_l = w->fermenter_l - w->fermenter_loss_l - w->dry_hops_l;
}

enum wf_status wf_plan_water(struct wf_planning *p)
{
    struct wf_brewday_water *w = &p->day->water;
    WF_TRY(fill_kettle(p, w));
    fill_mash(p, w);
    fill_fermenter(p, w);
    if (w->mash_l <= 0)
        return wf_error_add(p->e, WF_OUT_OF_RANGE,
                            "the sugars and extracts alone fill the kettle before the boil: brew a "
                            "larger batch, or mash part of them");
    if (w->packaged_l <= 0)
        return wf_error_add(p->e, WF_OUT_OF_RANGE,
                            "nothing is left to package: of %.2f L after the boil the kettle keeps "
                            "%.2f L, the fermenter %.2f L and dry hops %.2f L",
                            w->after_boil_l, w->kettle_loss_l, w->fermenter_loss_l, w->dry_hops_l);
    return WF_OK;
}
