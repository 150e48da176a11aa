/* scale.c: see scale.h. */
#include "solve/scale_parts.h"

#include "base/alloc.h"
#include "base/try.h"
#include "model/scale_model.h"
#include "solve/solver.h"

#include <math.h>
#include <string.h>

/* Up to so many lines the best steps are proved, in some milliseconds; beyond, a deviation that is
 * a hundredth above the best will do. */
#define FEW_LINES 24
#define MANY_GAP  0.01
/* Never reached by any recipe that a brewer writes. */
#define SECONDS_MOST 10.0

struct work {
    const struct wf_recipe *from;
    const struct wf_scale_options *o;
    struct wf_recipe *to;
    struct wf_scale_item *items; /* of the part in hand */
    double *steps, *per_step[2]; /* one an item */
    struct wf_error *e;
};

bool wf_scale_keeps_dose(const struct wf_recipe_hop *h)
{
    const struct wf_addition *a = &h->addition;
    bool late = a->use == WF_HOP_STAND || a->use == WF_HOP_DRY ||
                (a->use == WF_HOP_BOIL && a->minutes <= WF_LATE_HOP_MINUTES);
    return late || !(h->ibu > 0);
}

/* ---- A copy on the new system ---------------------------------------------------------------- */

static struct wf_kettle new_kettle(const struct wf_recipe *r, const struct wf_scale_options *o)
{
    struct wf_kettle k = r->kettle;
    k.batch_l = o->batch_l;
    k.efficiency = wf_brewhouse_efficiency(o->brewhouse, r->predicted.og);
    k.bitterness_factor = o->brewhouse->bitterness_factor;
    k.colour_factor = o->brewhouse->colour_factor;
    k.evaporation_l_h = o->brewhouse->evaporation_l_h;
    if (o->brewhouse->boil_given)
        k.boil_minutes = o->brewhouse->boil_minutes;
    return k;
}

static bool keep_names(struct wf_arena *a, const char **id, const char **of, const char **name)
{
    bool had_of = *of != NULL;
    *id = wf_arena_string(a, *id);
    *of = wf_arena_string(a, *of);
    *name = wf_arena_string(a, *name);
    return *id && *name && (*of || !had_of);
}

static bool copy_malts(struct work *w)
{
    for (size_t i = 0; i < w->from->malt_count; i++) {
        if (!(w->from->malts[i].kg > 0))
            continue;
        struct wf_recipe_malt *m = &w->to->malts[w->to->malt_count++];
        *m = w->from->malts[i];
        const struct wf_malt *lot = wf_store_malt(w->o->store, m->id);
        if (lot) {
            m->class = lot->class;
            m->grain = lot->grain;
            m->usual_most = lot->usual_most;
            memcpy(m->character, lot->character, sizeof m->character);
        }
        if (!keep_names(w->to->arena, &m->id, &m->of, &m->name))
            return false;
    }
    return true;
}

static bool copy_hops(struct work *w)
{
    for (size_t i = 0; i < w->from->hop_count; i++) {
        if (!(w->from->hops[i].grams > 0))
            continue;
        struct wf_recipe_hop *h = &w->to->hops[w->to->hop_count++];
        *h = w->from->hops[i];
        const struct wf_hop *lot = wf_store_hop(w->o->store, h->id);
        if (lot) {
            h->whole = lot->whole;
            h->addition.alpha = lot->alpha;
            h->addition.form = lot->whole ? WF_WHOLE_HOPS : 1;
            memcpy(h->character, lot->character, sizeof h->character);
        }
        if (h->addition.use == WF_HOP_BOIL)
            h->addition.minutes = fmin(h->addition.minutes, w->to->kettle.boil_minutes);
        if (!keep_names(w->to->arena, &h->id, &h->of, &h->name))
            return false;
    }
    return true;
}

static bool copy_yeast(struct work *w)
{
    struct wf_recipe *to = w->to;
    to->yeast = w->from->yeast;
    if (!to->yeast.id)
        return true;
    const struct wf_yeast *lot = wf_store_yeast(w->o->store, to->yeast.id);
    if (lot)
        to->yeast.attenuation = (lot->attenuation_low + lot->attenuation_high) / 2;
    to->yeast.attenuation = wf_brewhouse_attenuation(w->o->brewhouse, to->yeast.id, to->yeast.of,
                                                     to->yeast.attenuation);
    to->yeast.family = wf_arena_string(to->arena, to->yeast.family);
    return keep_names(to->arena, &to->yeast.id, &to->yeast.of, &to->yeast.name) &&
           (to->yeast.family || !w->from->yeast.family);
}

static bool copy(struct work *w)
{
    const struct wf_recipe *from = w->from;
    struct wf_recipe *to = w->to;
    to->status = WF_RECIPE_UNPROVED;
    to->kettle = new_kettle(from, w->o);
    to->stand_celsius = from->stand_celsius;
    to->stand_length = from->stand_length;
    to->name = wf_arena_string(to->arena, from->name);
    to->currency = wf_arena_string(to->arena, from->currency ? from->currency : "");
    to->price_note = wf_arena_string(to->arena, from->price_note);
    to->malts = wf_arena_alloc(to->arena, from->malt_count, sizeof *to->malts);
    to->hops = wf_arena_alloc(to->arena, from->hop_count, sizeof *to->hops);
    return to->name && to->currency && (to->price_note || !from->price_note) && to->malts &&
           to->hops && copy_malts(w) && copy_hops(w) && copy_yeast(w);
}

/* ---- Whole steps ----------------------------------------------------------------------------- */

/* Fills w->steps. */
static enum wf_status choose(struct work *w, size_t count, const struct wf_scale_sum *sums,
                             size_t sum_count)
{
    const struct wf_solver_options o = {
        .seconds = SECONDS_MOST, .gap = count > FEW_LINES ? MANY_GAP : 0, .cutoff = (double)NAN};
    struct wf_solution s = {0};
    struct wf_model *m = NULL;
    enum wf_status status;
    WF_TRY_GOTO(wf_scale_model_make(w->items, count, sums, sum_count, &m, w->e));
    WF_TRY_GOTO(wf_solver_run(m, &o, &s, w->e));
    if (s.x)
        wf_scale_model_steps(w->items, count, s.x, w->steps);
    else
        status = wf_error_add(w->e, WF_INTERNAL,
                              "internal error: no weights next to the exact "
                              "ones were found");
done:
    wf_solution_clear(&s);
    wf_model_free(m);
    return status;
}

/* ---- Grist ----------------------------------------------------------------------------------- */

static double malt_step(const struct work *w, const struct wf_recipe_malt *m)
{
    const struct wf_malt *lot = wf_store_malt(w->o->store, m->id);
    bool specialty = m->class == WF_CLASS_CARAMEL || m->class == WF_CLASS_ROAST;
    if (lot && isfinite(lot->step_kg))
        return lot->step_kg;
    return specialty ? w->o->brewhouse->step_specialty_kg : w->o->brewhouse->step_malt_kg;
}

/* The grist of the old shares that gives the old gravity, and its sums by the step. */
static enum wf_status exact_grist(struct work *w, double extract, double *total_kg)
{
    struct wf_recipe *to = w->to;
    double extract_per_kg = 0;
    for (size_t i = 0; i < to->malt_count; i++) {
        double step = malt_step(w, &to->malts[i]);
        WF_TRY(wf_extract_per_kg(&to->malts[i].grain, &to->kettle, &w->per_step[0][i]));
        WF_TRY(wf_mcu_per_kg(&to->malts[i].grain, &to->kettle, &w->per_step[1][i]));
        extract_per_kg += to->malts[i].share * w->per_step[0][i];
        w->per_step[0][i] *= step;
        w->per_step[1][i] *= step;
    }
    if (!(extract_per_kg > 0))
        return WF_OUT_OF_RANGE;
    *total_kg = extract / extract_per_kg;
    for (size_t i = 0; i < to->malt_count; i++) {
        double step = malt_step(w, &to->malts[i]);
        w->items[i] = (struct wf_scale_item){.exact = to->malts[i].share * *total_kg / step,
                                             .notch = 0.01 * *total_kg / step,
                                             .label = to->malts[i].id};
    }
    return WF_OK;
}

/* What a point of gravity and 1 SRM are in the sums' units, near the beer's own figures. */
static enum wf_status notches(const struct wf_recipe *from, double batch_l, double *extract,
                              double *mcu)
{
    double low, high, below = fmin(from->predicted.og, WF_GRAVITY_MOST - 0.001);
    WF_TRY(wf_extract_from_gravity(below, &low));
    WF_TRY(wf_extract_from_gravity(below + 0.001, &high));
    *extract = (high - low) * batch_l;
    WF_TRY(wf_mcu_from_srm(fmax(0, from->predicted.srm - 1), &low));
    WF_TRY(wf_mcu_from_srm(fmax(1, from->predicted.srm), &high));
    *mcu = high - low;
    return WF_OK;
}

static void set_malts(struct work *w)
{
    for (size_t i = 0; i < w->to->malt_count; i++) {
        struct wf_recipe_malt *m = &w->to->malts[i];
        double before = m->kg;
        m->kg = w->steps[i] * malt_step(w, m);
        m->cost *= m->kg / before;
    }
}

static enum wf_status scale_grist(struct work *w)
{
    struct wf_scale_sum sums[] = {{.per_step = w->per_step[0], .label = "original gravity"},
                                  {.per_step = w->per_step[1], .label = "colour"}};
    double extract, total_kg;
    WF_TRY(wf_extract_from_gravity(w->from->predicted.og, &extract));
    sums[0].wanted = extract * w->to->kettle.batch_l;
    WF_TRY(wf_mcu_from_srm(w->from->predicted.srm, &sums[1].wanted));
    WF_TRY(notches(w->from, w->to->kettle.batch_l, &sums[0].notch, &sums[1].notch));
    WF_TRY(exact_grist(w, sums[0].wanted, &total_kg));
    WF_TRY(choose(w, w->to->malt_count, sums, WF_COUNT_OF(sums)));
    set_malts(w);
    return WF_OK;
}

/* ---- Hops ------------------------------------------------------------------------------------ */

static double hop_step(const struct work *w, const struct wf_recipe_hop *h)
{
    const struct wf_hop *lot = wf_store_hop(w->o->store, h->id);
    return lot && isfinite(lot->step_kg) ? lot->step_kg * 1000 : w->o->brewhouse->step_hop_g;
}

/* h is still as it was, but for its lot. */
static enum wf_status exact_hop(struct work *w, size_t i, double boil_gravity)
{
    const struct wf_recipe_hop *h = &w->to->hops[i];
    const struct wf_kettle *k = &w->to->kettle;
    double step = hop_step(w, h), ibu;
    WF_TRY(wf_ibu_per_gram(&h->addition, k, boil_gravity, &ibu));
    bool by_dose = wf_scale_keeps_dose(h) || !(ibu > 0);
    double grams = by_dose ? h->grams * k->batch_l / w->from->kettle.batch_l : h->ibu / ibu;
    double notch = by_dose ? WF_SCALE_DOSE * k->batch_l : 1 / ibu;
    w->per_step[0][i] = ibu * step;
    w->items[i] =
        (struct wf_scale_item){.exact = grams / step, .notch = notch / step, .label = h->id};
    return WF_OK;
}

/* The gravity of the new grist, and the mean over its boil. */
static enum wf_status gravities(const struct wf_recipe *r, double *og, double *boil)
{
    double extract = 0;
    for (size_t i = 0; i < r->malt_count; i++) {
        double per_kg;
        WF_TRY(wf_extract_per_kg(&r->malts[i].grain, &r->kettle, &per_kg));
        extract += r->malts[i].kg * per_kg;
    }
    WF_TRY(wf_gravity_from_extract(extract / r->kettle.batch_l, og));
    return wf_boil_gravity(*og, &r->kettle, boil);
}

static enum wf_status scale_hops(struct work *w)
{
    const struct wf_scale_sum sum = {.per_step = w->per_step[0],
                                     .wanted = w->from->predicted.ibu,
                                     .notch = 1,
                                     .label = "bitterness"};
    struct wf_recipe *to = w->to;
    double og, boil_gravity;
    if (to->hop_count == 0)
        return WF_OK;
    WF_TRY(gravities(to, &og, &boil_gravity));
    for (size_t i = 0; i < to->hop_count; i++)
        WF_TRY(exact_hop(w, i, boil_gravity));
    WF_TRY(choose(w, to->hop_count, &sum, 1));
    for (size_t i = 0; i < to->hop_count; i++) {
        struct wf_recipe_hop *h = &to->hops[i];
        double before = h->grams;
        h->grams = w->steps[i] * hop_step(w, h);
        h->cost *= h->grams / before;
    }
    return WF_OK;
}

/* ---- The whole ------------------------------------------------------------------------------- */

static bool make_room(struct work *w)
{
    size_t most =
        w->from->malt_count > w->from->hop_count ? w->from->malt_count : w->from->hop_count;
    w->items = wf_alloc(most, sizeof *w->items);
    w->steps = wf_alloc(most, sizeof *w->steps);
    w->per_step[0] = wf_alloc(most, sizeof *w->per_step[0]);
    w->per_step[1] = wf_alloc(most, sizeof *w->per_step[1]);
    return w->items && w->steps && w->per_step[0] && w->per_step[1];
}

/* The laws speak in statuses alone; what they refuse is told here. */
static enum wf_status told(const struct work *w, enum wf_status status)
{
    if (status != WF_OUT_OF_RANGE)
        return status;
    return wf_error_add(w->e, status,
                        "recipe \"%s\" cannot be scaled: at %.6g L and %.3g %% it is outside the "
                        "laws' range",
                        w->from->name, w->o->batch_l, 100 * w->o->brewhouse->efficiency);
}

static enum wf_status scale(struct work *w)
{
    if (!make_room(w) || !copy(w))
        return wf_error_add(w->e, WF_MEMORY, "out of memory while scaling a recipe");
    WF_TRY(told(w, scale_grist(w)));
    WF_TRY(told(w, scale_hops(w)));
    WF_TRY(wf_recipe_predict(w->to, w->e));
    if (w->o->store)
        WF_TRY(wf_recipe_price(w->to, w->o->store, w->e));
    return wf_scale_wishes(w->to, w->from, w->o->store, w->e);
}

enum wf_status wf_recipe_scale(const struct wf_recipe *r, const struct wf_scale_options *o,
                               struct wf_recipe **out, struct wf_error *e)
{
    struct work w = {.from = r, .o = o, .e = e};
    enum wf_status status = WF_MEMORY;
    *out = NULL;
    struct wf_arena *arena = wf_arena_new();
    w.to = arena ? wf_arena_alloc(arena, 1, sizeof *w.to) : NULL;
    if (!w.to) {
        wf_error_add(e, WF_MEMORY, "out of memory while scaling a recipe");
        goto done;
    }
    w.to->arena = arena;
    WF_TRY_GOTO(scale(&w));
    *out = w.to;
    arena = NULL; /* handed over */
done:
    wf_free(w.items);
    wf_free(w.steps);
    wf_free(w.per_step[0]);
    wf_free(w.per_step[1]);
    wf_arena_free(arena);
    return status;
}
