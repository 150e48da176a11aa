/* judge_value.c: the beer that weights give, by the forward path, and what it is worth. */
#include "support/judge_parts.h"

#include <math.h>

#define PLACES_MOST 512 /* that can be in one recipe here; more is not judged */
#define MALTS_MOST  1024

/* ---- The beer -------------------------------------------------------------------------------- */

const struct wf_yeast *judge_yeast(const struct gen *g, const struct gen_recipe *r)
{
    return r->yeast == GEN_NO_YEAST ? NULL : &g->store.yeasts[r->yeast];
}

double judge_attenuation(const struct wf_yeast *y)
{
    return y == NULL ? (double)NAN : (y->attenuation_low + y->attenuation_high) / 2;
}

bool judge_predict(const struct gen *g, const struct gen_recipe *r, bool hops, struct wf_beer *b)
{
    struct wf_grain grains[MALTS_MOST];
    struct wf_addition additions[PLACES_MOST];
    double kg[MALTS_MOST], grams[PLACES_MOST];
    size_t malts = 0, places = 0, width = g->store.hop_count;
    struct wf_kettle k = gen_kettle(&g->target, &g->brewhouse);
    for (size_t i = 0; i < g->store.malt_count; i++) {
        if (r->kg[i] <= 0)
            continue;
        if (malts == MALTS_MOST)
            return false;
        grains[malts] = g->store.malts[i].grain;
        kg[malts++] = r->kg[i];
    }
    for (size_t i = 0; hops && i < g->target.slot_count * width; i++) {
        if (r->grams[i] <= 0)
            continue;
        if (places == PLACES_MOST)
            return false;
        additions[places] = gen_addition(g, i / width, i % width);
        grams[places++] = r->grams[i];
    }
    return wf_beer_predict(&k, grains, kg, malts, additions, grams, places,
                           hops ? judge_attenuation(judge_yeast(g, r)) : (double)NAN, b,
                           NULL) == WF_OK;
}

/* ---- Goals ----------------------------------------------------------------------------------- */

static double price_of(double kg, double price, double pack)
{
    if (kg <= 0 || !isfinite(price))
        return 0;
    return isfinite(pack) ? price * pack * ceil(kg / pack - 1e-9) : price * kg;
}

/* Distance from the aim in units of the window's side: 1 at its edge. A side of no width, or
 * without an end, is measured in the other's units. */
static double distance(double got, double aim, double low, double high)
{
    double below = aim - low, above = high - aim;
    double side = got < aim ? (isfinite(below) && below > 0 ? below : above)
                            : (isfinite(above) && above > 0 ? above : below);
    return fabs(got - aim) / (isfinite(side) && side > 0 ? side : 1);
}

/* Gravity is measured as extract, colour as colour units and bitterness as IBU: what is linear in
 * the weights. */
static double closeness(const struct gen *g, const struct wf_beer *b)
{
    struct wf_range og = g->target.og, colour = g->target.colour, bitter = g->target.bitterness;
    double sum = 0, x[4] = {0};
    if (isfinite(og.aim)) {
        const double at[] = {b->og, og.aim, og.low, og.high};
        for (int i = 0; i < 4; i++)
            if (wf_extract_from_gravity(at[i], &x[i]) != WF_OK)
                return (double)NAN;
        sum += distance(x[0], x[1], x[2], x[3]);
    }
    if (isfinite(colour.aim)) {
        const double at[] = {b->srm, colour.aim, colour.low, colour.high};
        for (int i = 0; i < 4; i++)
            if (wf_mcu_from_srm(at[i], &x[i]) != WF_OK)
                return (double)NAN;
        sum += distance(x[0], x[1], x[2], x[3]);
    }
    double points = 1;
    if (!wf_range_is_any(g->target.ratio)) {
        bitter = g->target.ratio;
        points = wf_points(b->og);
    }
    if (isfinite(bitter.aim))
        sum += distance(b->ibu / points, bitter.aim, bitter.low, bitter.high);
    return sum;
}

void judge_reckon(const struct gen *g, const struct gen_recipe *r, struct verdict *v)
{
    const struct wf_yeast *y = judge_yeast(g, r);
    double cost = y != NULL && isfinite(y->price) ? y->price : 0, count = y != NULL ? 1 : 0;
    for (size_t i = 0; i < g->store.malt_count; i++) {
        cost += price_of(r->kg[i], g->store.malts[i].price_per_kg, g->store.malts[i].pack_kg);
        count += r->kg[i] > 0 ? 1 : 0;
    }
    for (size_t h = 0; h < g->store.hop_count; h++) {
        double grams = 0;
        for (size_t s = 0; s < g->target.slot_count; s++)
            grams += r->grams[s * g->store.hop_count + h];
        cost += price_of(grams / 1000, g->store.hops[h].price_per_kg, g->store.hops[h].pack_kg);
        count += grams > 0 ? 1 : 0;
    }
    v->value[WF_GOAL_COST] = cost;
    v->value[WF_GOAL_FEWEST] = count;
    v->value[WF_GOAL_CLOSEST] = closeness(g, &v->beer);
    v->value[WF_GOAL_USE_UP] = v->value[WF_GOAL_CHANGE] = (double)NAN;
}
