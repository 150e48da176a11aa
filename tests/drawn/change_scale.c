/* change_scale.c: the batch, the scale that things are weighed on, and money. */
#include "drawn/change.h"

#include <math.h>

static double drawn_factor(struct dice *d)
{
    static const double factors[] = {2, 0.5, 3, 10, 0.1, 1.5, 7, 0.125};
    return factors[dice_whole(d, 0, (long)(sizeof factors / sizeof *factors) - 1)];
}

/* Stock and packs; +inf and NaN stay. */
static void scale_lots(struct changed *c, double factor)
{
    for (size_t i = 0; i < c->g.store.malt_count; i++) {
        c->g.store.malts[i].have_kg *= factor;
        c->g.store.malts[i].pack_kg *= factor;
        c->g.store.malts[i].step_kg *= factor;
    }
    for (size_t i = 0; i < c->g.store.hop_count; i++) {
        c->g.store.hops[i].have_g *= factor;
        c->g.store.hops[i].pack_kg *= factor;
        c->g.store.hops[i].step_kg *= factor;
    }
}

/* Everything that is weighed or measured: the recipe is the same, in another amount. */
static bool batch_and_scale(struct gen *base, struct dice *d, struct changed *c)
{
    struct wf_brewhouse *b = &c->g.brewhouse;
    double *const all[] = {&b->batch_l,           &b->evaporation_l_h, &b->step_malt_kg,
                           &b->step_specialty_kg, &b->step_hop_g,      &b->least_malt_kg,
                           &b->least_hop_g};
    c->factor = drawn_factor(d);
    for (size_t i = 0; i < sizeof all / sizeof *all; i++)
        *all[i] *= c->factor;
    scale_lots(c, c->factor);
    c->both = true;
    return base->brewhouse.batch_l * c->factor >= 0.5 && base->brewhouse.batch_l * c->factor <= 1e5;
}

/* A whole multiple of the batch on the same scale: each recipe's multiple is weighable, and on the
 * finer grid there may be better ones. An exact dose is met to the nearest step, which is nearer
 * then. */
static bool batch_alone(struct gen *base, struct dice *d, struct changed *c)
{
    c->factor = (double)dice_whole(d, 2, 4);
    c->g.brewhouse.batch_l *= c->factor;
    c->g.brewhouse.evaporation_l_h *= c->factor;
    scale_lots(c, c->factor);
    for (size_t i = 0; i < c->g.store.malt_count; i++)
        c->g.store.malts[i].step_kg /= c->factor;
    for (size_t i = 0; i < c->g.store.hop_count; i++)
        c->g.store.hops[i].step_kg /= c->factor;
    return !change_exact_dose(base);
}

static bool finer_scale(struct gen *base, struct dice *d, struct changed *c)
{
    double parts = (double)dice_whole(d, 2, 5);
    struct wf_brewhouse *b = &c->g.brewhouse;
    (void)base;
    if (dice_chance(d, 50))
        b->step_malt_kg /= parts;
    else
        b->step_specialty_kg /= parts;
    b->least_malt_kg *= dice_decimal(d, 0, 2, 2);
    return true;
}

static bool less_is_worth_adding(struct gen *base, struct dice *d, struct changed *c)
{
    c->g.brewhouse.least_malt_kg *= dice_decimal(d, 0, 9, 10);
    c->g.brewhouse.least_hop_g *= dice_decimal(d, 0, 9, 10);
    return base->brewhouse.least_malt_kg > 0;
}

/* Another currency. */
static bool money(struct gen *base, struct dice *d, struct changed *c)
{
    double rate = (dice_chance(d, 50) ? 163.7 : 0.01) * drawn_factor(d);
    (void)base;
    for (size_t i = 0; i < c->g.store.malt_count; i++)
        c->g.store.malts[i].price_per_kg *= rate;
    for (size_t i = 0; i < c->g.store.hop_count; i++)
        c->g.store.hops[i].price_per_kg *= rate;
    for (size_t i = 0; i < c->g.store.yeast_count; i++)
        c->g.store.yeasts[i].price *= rate;
    c->both = true;
    return true;
}

const struct change scale_changes[] = {
    {"batch and scale", batch_and_scale, false},
    {"the batch alone", batch_alone, false},
    {"a finer scale", finer_scale, true},
    {"less is worth adding", less_is_worth_adding, true},
    {"another currency", money, false},
    {NULL, NULL, false},
};
