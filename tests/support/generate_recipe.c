/* generate_recipe.c: a recipe from the store, on the scale, such as a brewer might write. */
#include "support/generate_parts.h"

#include <math.h>

/* ---- Grist ----------------------------------------------------------------------------------- */

/* How often a recipe has a malt of the class, and its greatest share. */
static const struct {
    enum wf_malt_class class;
    long percent;
    double most;
} specials[] = {
    {WF_CLASS_CARAMEL, 75, 0.12}, {WF_CLASS_HIGH_KILNED, 50, 0.30}, {WF_CLASS_ROAST, 35, 0.06},
    {WF_CLASS_FLAKED, 30, 0.15},  {WF_CLASS_SUGAR, 20, 0.10},
};

double gen_step_kg(const struct gen *g, const struct wf_malt *m)
{
    if (isfinite(m->step_kg))
        return m->step_kg;
    bool specialty = m->class == WF_CLASS_CARAMEL || m->class == WF_CLASS_ROAST;
    return specialty ? g->brewhouse.step_specialty_kg : g->brewhouse.step_malt_kg;
}

static double share_limit(const struct wf_malt *m)
{
    return isfinite(m->most) ? m->most : m->usual_most;
}

/* The weight on the scale at or below what is wanted and in stock; 0 if not worth adding. */
static double weighed(const struct gen *g, const struct wf_malt *m, double kg)
{
    double step = gen_step_kg(g, m);
    double steps = floor(fmin(kg, m->have_kg) / step + 1e-9);
    double least = ceil(g->brewhouse.least_malt_kg / step - 1e-9);
    return steps >= least && steps >= 1 ? steps * step : 0;
}

/* A lot of the class at random, or 0, which is of class base. */
static size_t pick(const struct gen *g, struct dice *d, enum wf_malt_class class)
{
    size_t found = 0, seen = 0;
    for (size_t i = 1; i < g->store.malt_count; i++)
        if (g->store.malts[i].class == class && dice_whole(d, 0, (long)seen++) == 0)
            found = i;
    return found;
}

static void add_share(struct gen *g, size_t lot, double share, double total_kg)
{
    const struct wf_malt *m = &g->store.malts[lot];
    g->drawn.kg[lot] = weighed(g, m, fmin(share, 0.95 * share_limit(m)) * total_kg);
}

/* Rounding to the scale may have taken a lot past its greatest share: it is left out. That makes
 * the others' shares greater, so it is done until nothing changes. */
static bool drop_one(struct gen *g)
{
    double total = 0;
    for (size_t i = 0; i < g->store.malt_count; i++)
        total += g->drawn.kg[i];
    for (size_t i = 1; i < g->store.malt_count; i++) {
        double *kg = &g->drawn.kg[i];
        if (*kg <= share_limit(&g->store.malts[i]) * total - 1e-6 || *kg <= 0)
            continue;
        g->drawn.kg[0] += weighed(g, &g->store.malts[0], *kg);
        *kg = 0;
        return true;
    }
    return false;
}

static void draw_grist(struct gen *g, struct dice *d)
{
    double points = (double)dice_whole(d, 38, 80);
    /* A kilogram of malt as is gives about 300 points in a litre. */
    double total = points * g->brewhouse.batch_l / (300 * g->brewhouse.efficiency), rest = total;
    for (size_t i = 0; i < sizeof specials / sizeof *specials; i++) {
        size_t lot = pick(g, d, specials[i].class);
        if (lot == 0 || !dice_chance(d, specials[i].percent))
            continue;
        add_share(g, lot, specials[i].most * dice_decimal(d, 25, 100, 100), total);
        rest -= g->drawn.kg[lot];
    }
    size_t second = pick(g, d, WF_CLASS_BASE);
    if (second != 0 && dice_chance(d, 50)) {
        add_share(g, second, dice_decimal(d, 20, 60, 100) * rest / total, total);
        rest -= g->drawn.kg[second];
    }
    g->drawn.kg[0] = weighed(g, &g->store.malts[0], rest);
    while (drop_one(g))
        ;
}

/* ---- Hops ------------------------------------------------------------------------------------ */

static const struct wf_slot schedule[] = {
    {.use = WF_HOP_BOIL, .minutes = 60, .at = "60 min"},
    {.use = WF_HOP_BOIL, .minutes = 10, .at = "10 min"},
    {.use = WF_HOP_STAND, .minutes = 20, .celsius = 80, .at = "stand 20 min 80 C"},
    {.use = WF_HOP_DRY, .days = 4, .at = "dry 4 days"},
    {.use = WF_HOP_BOIL, .minutes = 30, .at = "30 min"},
    {.use = WF_HOP_FIRST_WORT, .at = "first wort"},
};

bool gen_slot_is_late(const struct wf_slot *s)
{
    return s->use == WF_HOP_STAND || s->use == WF_HOP_DRY ||
           (s->use == WF_HOP_BOIL && s->minutes <= WF_LATE_HOP_MINUTES);
}

static double alpha_today(const struct wf_hop *h)
{
    double alpha = h->alpha;
    if (h->packed != WF_NO_DATE && h->packed < GEN_TODAY &&
        wf_alpha_after_storage(h->alpha, h->six_month_loss, (double)(GEN_TODAY - h->packed),
                               h->kept_celsius, h->packing, &alpha) != WF_OK)
        return (double)NAN;
    return alpha;
}

struct wf_addition gen_addition(const struct gen *g, size_t slot, size_t hop)
{
    const struct wf_slot *s = &g->target.slots[slot];
    const struct wf_hop *h = &g->store.hops[hop];
    return (struct wf_addition){.use = s->use,
                                .alpha = alpha_today(h),
                                .minutes = s->minutes,
                                .celsius = s->celsius,
                                .form = h->whole ? 0.9 : 1};
}

void gen_draw_slots(struct gen *g, struct dice *d)
{
    size_t most = sizeof schedule / sizeof *schedule;
    size_t count = g->options.slots < most ? g->options.slots : most;
    struct wf_slot *slots = gen_room(g, count, sizeof *slots);
    for (size_t i = 0; i < count; i++) {
        slots[i] = schedule[i];
        slots[i].dose = wf_range_any();
        slots[i].most = i > 0 && g->options.scale != GEN_TINY && dice_chance(d, 15) ? 2 : 1;
        slots[i].dosed = i > 0 && dice_chance(d, 60);
    }
    g->target.slots = slots;
    g->target.slot_count = count;
}

static double hop_left(const struct gen *g, size_t hop)
{
    double left = g->store.hops[hop].have_g;
    for (size_t s = 0; s < g->target.slot_count; s++)
        left -= g->drawn.grams[s * g->store.hop_count + hop];
    return left;
}

/* What is wanted of the slot's hop: for bitterness, or a dose that is a tenth of a gram a litre. */
static double wanted_grams(const struct gen *g, struct dice *d, size_t slot, size_t hop,
                           double *dose)
{
    *dose = dice_decimal(d, 5, 20, 10);
    if (slot > 0)
        return *dose * g->brewhouse.batch_l;
    double ibu = (double)dice_whole(d, 12, 45);
    return ibu * g->brewhouse.batch_l / (1000 * 0.23 * gen_addition(g, slot, hop).alpha);
}

static void draw_addition(struct gen *g, struct dice *d, struct wf_slot *s, size_t slot)
{
    double step = g->brewhouse.step_hop_g, dose;
    if (slot > 0 && !s->dosed && dice_chance(d, 50))
        return; /* a slot without a dose may stay empty */
    for (int tries = 0; tries < 8; tries++) {
        size_t hop = (size_t)dice_whole(d, 0, (long)g->store.hop_count - 1);
        double grams = round(wanted_grams(g, d, slot, hop, &dose) / step) * step;
        if (grams < g->brewhouse.least_hop_g || grams > hop_left(g, hop))
            continue;
        g->drawn.grams[slot * g->store.hop_count + hop] = grams;
        bool one_value = dice_chance(d, 30);
        long around = dice_whole(d, 2, 4);
        if (s->dosed && one_value)
            s->dose = (struct wf_range){dose, dose, dose};
        else if (s->dosed)
            s->dose = (struct wf_range){round(dose * 10 - 2) / 10,
                                        round(dose * 10 + (double)around) / 10, (double)NAN};
        return;
    }
    s->dosed = false;
}

/* ---- The whole ------------------------------------------------------------------------------- */

void gen_draw_recipe(struct gen *g, struct dice *d)
{
    struct wf_slot *slots = gen_room(g, g->target.slot_count, sizeof *slots);
    for (size_t s = 0; s < g->target.slot_count; s++)
        slots[s] = g->target.slots[s];
    g->target.slots = slots;
    g->drawn = gen_recipe_new(g);
    draw_grist(g, d);
    for (size_t s = 0; s < g->target.slot_count; s++)
        draw_addition(g, d, &slots[s], s);
    if (g->store.yeast_count > 0)
        g->drawn.yeast = (size_t)dice_whole(d, 0, (long)g->store.yeast_count - 1);
}
