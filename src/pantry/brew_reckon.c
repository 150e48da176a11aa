/* brew_reckon.c: what a brew tells: the same laws as in a prediction, the other way round. */
#include "wortfit/brew.h"

#include "base/alloc.h"
#include "base/try.h"

#include <math.h>

#define MOST_RATE_L_H 1e5
#define HALVINGS      60 /* of 0..1: to the last bit of a double */

/* ---- Efficiency ------------------------------------------------------------------------------ */

struct extracts {
    double mashed, rest; /* kg that the grist has: in the mash; of sugars and the like */
};

static struct extracts extracts_of(const struct wf_recipe *r)
{
    struct extracts x = {0};
    for (size_t i = 0; i < r->malt_count; i++)
        *(r->malts[i].grain.mashed ? &x.mashed : &x.rest) +=
            r->malts[i].kg * r->malts[i].grain.yield;
    return x;
}

static enum wf_status find_efficiency(const struct wf_recipe *r, const struct wf_measured *m,
                                      double *efficiency, struct wf_error *e)
{
    struct extracts x = extracts_of(r);
    double per_l;
    WF_TRY(wf_extract_from_gravity(m->og, &per_l));
    double kg = per_l * m->volume_l;
    if (!(x.mashed > 0)) {
        *efficiency = r->kettle.efficiency; /* nothing was mashed: nothing tells it */
        return WF_OK;
    }
    *efficiency = (kg - x.rest) / x.mashed;
    if (*efficiency > 0 && *efficiency <= 1)
        return WF_OK;
    return wf_error_add(e, WF_BAD_INPUT,
                        "%.2f L of %.3f hold %.2f kg of extract, but the grist %s %.2f kg; look at "
                        "gravity, volume and weights again",
                        m->volume_l, m->og, kg,
                        *efficiency > 1 ? "has no more than" : "has in its sugars alone",
                        *efficiency > 1 ? x.mashed + x.rest : x.rest);
}

/* ---- Evaporation ----------------------------------------------------------------------------- */

/* L/h. The extract stays in the kettle, so the gravities tell the volume before the boil, too. */
static double evaporation_of(const struct wf_measured *m, double boil_minutes)
{
    double before = m->pre_boil_l, thin, thick;
    if (isnan(before) && !isnan(m->pre_boil_gravity) &&
        wf_extract_from_gravity(m->pre_boil_gravity, &thin) == WF_OK && thin > 0 &&
        wf_extract_from_gravity(m->og, &thick) == WF_OK)
        before = m->volume_l * thick / thin;
    double rate = (before - m->volume_l) / (boil_minutes / 60);
    return rate >= 0 && rate <= MOST_RATE_L_H ? rate : (double)NAN;
}

/* ---- The yeast ------------------------------------------------------------------------------- */

/* Real residue of the wort, kg; negative: outside the laws. */
static double residue_at(const struct wf_recipe *r, const struct wf_kettle *k, double attenuation)
{
    double sum = 0, per_kg;
    for (size_t i = 0; i < r->malt_count; i++) {
        if (wf_residue_per_kg(&r->malts[i].grain, k, attenuation, &per_kg) != WF_OK)
            return -1;
        sum += r->malts[i].kg * per_kg;
    }
    return sum;
}

/* The attenuation that leaves what was measured: residue falls with it, so by halving. NaN: none
 * between 0 and 1 does. */
static double attenuation_of(const struct wf_recipe *r, const struct wf_kettle *k, double og,
                             double fg)
{
    double original, apparent, real, per_l, low = 0, high = 1;
    if (isnan(fg) || !r->yeast.id || wf_plato_from_gravity(og, &original) != WF_OK ||
        wf_plato_from_gravity(fg, &apparent) != WF_OK ||
        wf_real_extract(original, apparent, &real) != WF_OK ||
        wf_extract_from_gravity(og, &per_l) != WF_OK)
        return (double)NAN;
    double left = per_l * k->batch_l * real / original;
    if (!(residue_at(r, k, low) >= left && residue_at(r, k, high) <= left))
        return (double)NAN;
    for (int i = 0; i < HALVINGS; i++) {
        double middle = (low + high) / 2;
        *(residue_at(r, k, middle) > left ? &low : &high) = middle;
    }
    return (low + high) / 2;
}

/* ---- The beer -------------------------------------------------------------------------------- */

/* Predicts the recipe on the kettle as it was. What should have boiled longer than the boil went in
 * at its start. */
static enum wf_status predict(const struct wf_recipe *r, const struct wf_kettle *k,
                              struct wf_beer *beer, struct wf_error *e)
{
    struct wf_recipe brewed = *r;
    brewed.kettle = *k;
    brewed.hops = wf_alloc(r->hop_count, sizeof *brewed.hops);
    if (!brewed.hops)
        return wf_error_add(e, WF_MEMORY, "out of memory");
    for (size_t i = 0; i < r->hop_count; i++) {
        brewed.hops[i] = r->hops[i];
        brewed.hops[i].addition.minutes = r->hops[i].addition.use == WF_HOP_BOIL
                                              ? fmin(r->hops[i].addition.minutes, k->boil_minutes)
                                              : r->hops[i].addition.minutes;
    }
    enum wf_status status = wf_recipe_predict(&brewed, e);
    *beer = brewed.predicted;
    wf_free(brewed.hops);
    return status;
}

enum wf_status wf_brew_reckon(const struct wf_recipe *r, const struct wf_measured *m,
                              struct wf_brew_figures *out, struct wf_error *e)
{
    struct wf_kettle k = r->kettle;
    struct wf_brew_figures f = {0};
    if (m->fg >= m->og)
        return wf_error_add(e, WF_BAD_INPUT,
                            "a final gravity of %.3f is not below the original one, %.3f", m->fg,
                            m->og);
    WF_TRY(find_efficiency(r, m, &f.efficiency, e));
    k.batch_l = m->volume_l;
    k.efficiency = f.efficiency;
    if (!isnan(m->boil_minutes))
        k.boil_minutes = m->boil_minutes;
    f.evaporation_l_h = evaporation_of(m, k.boil_minutes);
    if (!isnan(f.evaporation_l_h))
        k.evaporation_l_h = f.evaporation_l_h;
    WF_TRY(predict(r, &k, &f.beer, e));
    f.attenuation = attenuation_of(r, &k, m->og, m->fg);
    *out = f;
    return WF_OK;
}
