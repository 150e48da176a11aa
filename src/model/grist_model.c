/*
 * The grist as rows. Every row is in the units in which a brewer thinks of its wish, so that one
 * tolerance serves the solver and one notch is comparable between wishes: kg of extract, MCU, kg.
 */
#include "model/grist_parts.h"

#include "base/alloc.h"
#include "base/try.h"
#include "model/wish_rows.h"

#include <math.h>

/* ---- Columns --------------------------------------------------------------------------------- */

/* A rule that leaves no room for a malt: all of the grist must be others, or none of it this. */
static bool ruled_out(const struct wf_target *t, const struct wf_malt *m)
{
    for (size_t i = 0; i < t->rule_count; i++) {
        const struct wf_rule *r = &t->rules[i];
        bool in = wf_malt_set_has(&r->who, m);
        if ((!in && r->share.low >= 1) || (in && (r->share.high <= 0 || r->most == 0)))
            return true;
    }
    return false;
}

/* The greatest weight that can be of use: stock, and what alone would pass a wish. */
static double weight_most(const struct wf_grist_build *b, const struct wf_pick_malt *m)
{
    double most = m->most_kg, mcu;
    if (b->o->elastic)
        return most;
    if (ruled_out(b->p->target, m->lot))
        return 0;
    most = fmin(most, b->extract_high / m->extract);
    if (m->mcu > 0 && isfinite(b->p->target->colour.high) &&
        wf_mcu_from_srm(b->p->target->colour.high, &mcu) == WF_OK)
        most = fmin(most, mcu / m->mcu);
    return most;
}

/* The weight of the grist as a column of its own: shares then have two terms instead of one a lot.
 */
static void add_total(struct wf_grist_build *b)
{
    struct wf_model *m = b->g->model;
    b->g->total = wf_model_column(m, 0, INFINITY, 0, false, "weight of the grist");
    int row = wf_model_row(m, 0, 0, "weight of the grist");
    wf_model_term(m, row, b->g->total, -1);
    for (size_t i = 0; i < b->p->malt_count; i++)
        wf_model_term(m, row, b->g->items[i].weight, b->g->items[i].step);
}

static void add_columns(struct wf_grist_build *b)
{
    struct wf_model *m = b->g->model;
    wf_model_column(m, 0, 0, 0, false, "nothing"); /* no model is without columns */
    for (size_t i = 0; i < b->p->malt_count; i++) {
        const struct wf_pick_malt *pick = &b->p->malts[i];
        const struct wf_malt *lot = pick->lot;
        double most = floor(weight_most(b, pick) / pick->step_kg + 1e-9);
        double least = round(pick->least_kg / pick->step_kg);
        if (most < least)
            most = 0;
        struct wf_item item = {.step = pick->step_kg,
                               .least = least,
                               .present = -1,
                               .pack = -1,
                               .group = (int)lot->class};
        item.weight = wf_model_column(m, 0, most, 0, true, lot->id);
        item.use = wf_model_column(m, 0, most > 0 ? 1 : 0, 0, true, lot->id);
        if (isfinite(pick->pack_kg))
            item.pack =
                wf_model_column(m, 0, ceil(most * pick->step_kg / pick->pack_kg), 0, true, lot->id);
        b->g->items[i] = item;

        int row = wf_model_row(m, 0, INFINITY, "least weight worth adding");
        wf_model_term(m, row, item.weight, 1);
        wf_model_term(m, row, item.use, -least);
        row = wf_model_row(m, -INFINITY, 0, "weight only if used");
        wf_model_term(m, row, item.weight, 1);
        wf_model_term(m, row, item.use, -most);
        if (item.pack >= 0) {
            row = wf_model_row(m, 0, INFINITY, "whole packs");
            wf_model_term(m, row, item.pack, pick->pack_kg);
            wf_model_term(m, row, item.weight, -pick->step_kg);
        }
    }
}

/* ---- Rows ------------------------------------------------------------------------------------ */

/* A wish as one row, and its aim as deviation columns if `deviation` is not NULL: below and above
 * the aim, each 1 where it reaches the end of the window. */
static int wish(const struct wf_grist_build *b, double low, double high, double notch,
                const char *label)
{
    return wf_wish_row(b->g->model, low, high, b->o->elastic, notch, label);
}

/* kg/L of extract to a gravity point. */
#define POINT 0.0026
/* The nearest recipe may be some points too weak; each point further counts for so many, since
 * shares are missed by less the weaker the beer is, and not at all by water. */
#define WEAK_POINTS 2
#define WEAK_COST   10

static void add_weak(struct wf_grist_build *b)
{
    struct wf_model *m = b->g->model;
    double point = POINT * b->p->kettle.batch_l;
    if (!b->o->elastic || b->p->malt_count == 0)
        return;
    int row = wish(b, b->extract_low - WEAK_POINTS * point, INFINITY, point / (WEAK_COST - 1),
                   "original gravity, far from it");
    for (size_t i = 0; i < b->p->malt_count; i++)
        wf_grist_term(b, row, i, b->p->malts[i].extract);
    row = wf_model_row(m, 1, INFINITY, "some malt");
    for (size_t i = 0; i < b->p->malt_count; i++)
        wf_model_term(m, row, b->g->items[i].use, 1);
}

static enum wf_status add_gravity(struct wf_grist_build *b)
{
    const struct wf_range *og = &b->p->og;
    double batch = b->p->kettle.batch_l, aim;
    int row = wish(b, b->extract_low, b->extract_high, POINT * batch, "original gravity");
    for (size_t i = 0; i < b->p->malt_count; i++)
        wf_grist_term(b, row, i, b->p->malts[i].extract);
    add_weak(b);
    if (isfinite(og->aim) && b->o->aims) {
        double low, high;
        WF_TRY(wf_extract_from_gravity(og->aim, &aim));
        WF_TRY(wf_extract_from_gravity(og->low, &low));
        WF_TRY(wf_extract_from_gravity(og->high, &high));
        int aim_row =
            wf_aim_row(b->g->model, (double[]){aim * batch, aim * batch}, (aim - low) * batch,
                       (high - aim) * batch, b->g->deviation[0], "original gravity from its aim");
        for (size_t i = 0; i < b->p->malt_count; i++)
            wf_grist_term(b, aim_row, i, b->p->malts[i].extract);
    }
    return WF_OK;
}

static enum wf_status mcu_or(double srm, double fallback, double *mcu)
{
    *mcu = fallback;
    return isfinite(srm) ? wf_mcu_from_srm(srm, mcu) : WF_OK;
}

/* The law of colour ends somewhere, and a grist past it is no beer of which anything is known.
 * Where the lots could get there, and no wish that must be met keeps below, that is a bound. */
static void add_end_of_colour(struct wf_grist_build *b)
{
    double deepest = 0; /* MCU to a kg of extract */
    for (size_t i = 0; i < b->p->malt_count; i++)
        deepest = fmax(deepest, b->p->malts[i].mcu / b->p->malts[i].extract);
    bool kept = !b->o->elastic && isfinite(b->p->target->colour.high);
    if (kept || deepest * b->extract_high <= WF_MCU_MOST)
        return;
    int row = wf_model_row(b->g->model, -INFINITY, (1 - 1e-6) * WF_MCU_MOST,
                           "colours that the law covers");
    for (size_t i = 0; i < b->p->malt_count; i++)
        wf_grist_term(b, row, i, b->p->malts[i].mcu);
}

static enum wf_status add_colour(struct wf_grist_build *b)
{
    struct wf_range c = b->p->target->colour;
    double low, high, aim, next;
    add_end_of_colour(b);
    if (wf_range_is_any(c))
        return WF_OK;
    double middle = wf_range_middle(c);
    WF_TRY(mcu_or(c.low, -INFINITY, &low));
    WF_TRY(mcu_or(c.high, INFINITY, &high));
    WF_TRY(wf_mcu_from_srm(middle, &aim));
    WF_TRY(wf_mcu_from_srm(middle + 1, &next));
    int row = wish(b, low, high, next - aim, "colour");
    for (size_t i = 0; i < b->p->malt_count; i++)
        wf_grist_term(b, row, i, b->p->malts[i].mcu);
    if (isfinite(c.aim) && b->o->aims) {
        row = wf_aim_row(b->g->model, (double[]){aim, aim}, aim - low, high - aim,
                         b->g->deviation[1], "colour from its aim");
        for (size_t i = 0; i < b->p->malt_count; i++)
            wf_grist_term(b, row, i, b->p->malts[i].mcu);
    }
    return WF_OK;
}

/* weight of the set - share x weight of the grist, on the right side of 0 */
static void add_share(struct wf_grist_build *b, const struct wf_malt_set *who, double share,
                      bool at_most, const char *label)
{
    int row = wish(b, at_most ? -INFINITY : 0, at_most ? 0 : INFINITY, 0.01 * b->grist_kg, label);
    wf_model_term(b->g->model, row, b->g->total, -share);
    for (size_t i = 0; i < b->p->malt_count; i++)
        if (wf_malt_set_has(who, b->p->malts[i].lot))
            wf_grist_term(b, row, i, 1);
}

static void add_count(struct wf_grist_build *b, const struct wf_rule *r)
{
    double low = r->least >= 0 ? r->least : -(double)INFINITY;
    double high = r->most >= 0 ? r->most : (double)INFINITY;
    if (r->least < 0 && r->most < 0)
        return;
    int row = wish(b, low, high, 0.5, r->words);
    for (size_t i = 0; i < b->p->malt_count; i++)
        if (wf_malt_set_has(&r->who, b->p->malts[i].lot))
            wf_model_term(b->g->model, row, b->g->items[i].use, 1);
}

static void add_rules(struct wf_grist_build *b)
{
    for (size_t i = 0; i < b->p->target->rule_count; i++) {
        const struct wf_rule *r = &b->p->target->rules[i];
        if (isfinite(r->share.low) && r->share.low > 0 && (r->share.low < 1 || b->o->elastic))
            add_share(b, &r->who, r->share.low, false, r->words);
        if (isfinite(r->share.high) && r->share.high < 1)
            add_share(b, &r->who, r->share.high, true, r->words);
        add_count(b, r);
    }
}

/* In an open problem: none that does not belong, and no weight of it. */
static void add_only(struct wf_grist_build *b)
{
    const struct wf_malt_set *only = &b->p->target->only;
    if (!b->p->open || only->all)
        return;
    add_share(b, only, 1, false, "malts that belong in it");
    int row = wish(b, -(double)INFINITY, 0, 0.2, "malts that do not belong in it");
    for (size_t i = 0; i < b->p->malt_count; i++)
        if (!wf_malt_set_has(only, b->p->malts[i].lot))
            wf_model_term(b->g->model, row, b->g->items[i].use, 1);
}

/* The usual greatest share of each lot: not a wish, so never missed. */
static void add_greatest_shares(struct wf_grist_build *b)
{
    for (size_t i = 0; i < b->p->malt_count; i++) {
        if (b->p->malts[i].share_most >= 1)
            continue;
        int row = wf_model_row(b->g->model, -INFINITY, 0, "greatest share");
        wf_model_term(b->g->model, row, b->g->total, -b->p->malts[i].share_most);
        wf_grist_term(b, row, i, 1);
    }
}

static void add_index(struct wf_grist_build *b, const struct wf_word_wish *w, double bound,
                      bool at_most)
{
    int row = wish(b, at_most ? -INFINITY : 0, at_most ? 0 : INFINITY, 0.25 * b->grist_kg,
                   wf_word_name(w->word));
    wf_model_term(b->g->model, row, b->g->total, -bound);
    for (size_t i = 0; i < b->p->malt_count; i++) {
        const struct wf_malt *m = b->p->malts[i].lot;
        wf_grist_term(b, row, i, m->character[w->word] / m->usual_most);
    }
}

static void add_character(struct wf_grist_build *b)
{
    for (size_t i = 0; i < b->p->target->wish_count; i++) {
        const struct wf_word_wish *w = &b->p->target->wishes[i];
        if (w->word >= WF_MALT_WORD_COUNT)
            continue;
        if (isfinite(w->index.low) && w->index.low > 0)
            add_index(b, w, w->index.low, false);
        if (isfinite(w->index.high))
            add_index(b, w, w->index.high, true);
    }
}

static void add_diastatic(struct wf_grist_build *b)
{
    double least = b->p->target->diastatic;
    if (!(least > 0))
        return;
    int row = wish(b, 0, INFINITY, 5 * b->grist_kg, "diastatic power");
    for (size_t i = 0; i < b->p->malt_count; i++)
        if (b->p->malts[i].lot->grain.mashed)
            wf_grist_term(b, row, i, b->p->malts[i].lot->grain.lintner - least);
}

static bool names_malt(const struct wf_problem *p, const char *id)
{
    const struct wf_store *s = p->store;
    const char *one[] = {id, NULL};
    for (size_t i = 0; i < s->hop_count; i++)
        if (wf_id_listed(one, s->hops[i].id, s->hops[i].of))
            return false;
    for (size_t i = 0; i < s->yeast_count; i++)
        if (wf_id_listed(one, s->yeasts[i].id, s->yeasts[i].of))
            return false;
    return true; /* a malt's, or nobody's: then the row cannot hold, which is the truth */
}

static void add_use(struct wf_grist_build *b)
{
    for (const char *const *id = b->p->target->use; id != NULL && *id != NULL; id++) {
        const char *one[] = {*id, NULL};
        if (!names_malt(b->p, *id))
            continue;
        int row = wish(b, 1, INFINITY, 0.2, *id);
        for (size_t i = 0; i < b->p->malt_count; i++)
            if (wf_id_listed(one, b->p->malts[i].lot->id, b->p->malts[i].lot->of))
                wf_model_term(b->g->model, row, b->g->items[i].use, 1);
    }
}

/* Never missed: they tell one recipe from another. */
static void add_limits(struct wf_grist_build *b)
{
    struct wf_model *m = b->g->model;
    for (size_t k = 0; k < b->p->limit_count; k++) {
        const struct wf_limit *l = &b->p->limits[k];
        bool amount = l->kind == WF_LIMIT_AMOUNT, few = l->kind == WF_LIMIT_FEW;
        if (l->of_hops)
            continue;
        int row = wf_model_row(m,
                               few      ? -(double)INFINITY
                               : amount ? 0
                                        : 1,
                               few ? l->most : (double)INFINITY, "apart from other recipes");
        if (amount)
            wf_model_term(m, row, b->g->total, -1);
        for (size_t i = 0; i < b->p->malt_count; i++)
            if (amount)
                wf_grist_term(b, row, i, l->part[i]);
            else if (l->part[i] > 0)
                wf_model_term(m, row, b->g->items[i].use, 1);
    }
}

/* ---- The whole ------------------------------------------------------------------------------- */

static enum wf_status fill(struct wf_grist_build *b)
{
    double batch = b->p->kettle.batch_l;
    WF_TRY(wf_extract_from_gravity(b->o->og_low, &b->extract_low));
    WF_TRY(wf_extract_from_gravity(b->o->og_high, &b->extract_high));
    b->extract_low *= batch;
    b->extract_high *= batch;
    b->grist_kg = b->extract_high / (0.8 * b->p->kettle.efficiency);
    add_columns(b);
    add_total(b);
    WF_TRY(add_gravity(b));
    WF_TRY(add_colour(b));
    add_rules(b);
    add_only(b);
    add_greatest_shares(b);
    add_character(b);
    add_diastatic(b);
    add_use(b);
    add_limits(b);
    if (b->o->change && b->p->from &&
        !wf_change_malts(b->g->model, b->p, b->g->items, &b->g->change))
        return WF_MEMORY;
    return wf_grist_add_residue(b);
}

enum wf_status wf_grist_model_make(const struct wf_problem *p, const struct wf_grist_options *o,
                                   struct wf_grist_model *out, struct wf_error *e)
{
    struct wf_grist_model g = {.item_count = p->malt_count, .deviation = {{-1, -1}, {-1, -1}}};
    struct wf_grist_build b = {.p = p, .o = o, .g = &g};
    enum wf_status status = WF_MEMORY;
    g.model = wf_model_new();
    g.items = wf_alloc(p->malt_count, sizeof *g.items);
    if (g.model == NULL || g.items == NULL) {
        wf_error_add(e, WF_MEMORY, "out of memory");
        goto done;
    }
    status = fill(&b);
    if (status == WF_MEMORY) {
        wf_error_add(e, status, "out of memory");
        goto done;
    }
    if (status != WF_OK) {
        wf_error_add(e, status, "a wanted figure is outside the range of the brewing laws");
        goto done;
    }
    WF_TRY_GOTO(wf_model_check(g.model, e));
    *out = g;
    return WF_OK;
done:
    wf_grist_model_free(&g);
    return status;
}

void wf_grist_model_free(struct wf_grist_model *g)
{
    wf_model_free(g->model);
    wf_free(g->items);
    wf_charges_free(&g->change);
    *g = (struct wf_grist_model){0};
}

/* ---- Goals ----------------------------------------------------------------------------------- */

static void cost_of_money(struct wf_grist_model *g, const struct wf_problem *p)
{
    for (size_t i = 0; i < g->item_count; i++) {
        const struct wf_item *item = &g->items[i];
        const struct wf_pick_malt *m = &p->malts[i];
        wf_model_set_cost(g->model, item->weight, m->price * item->step);
        if (item->pack >= 0)
            wf_model_set_cost(g->model, item->pack, m->pack_price);
    }
}

static void cost_of_count(struct wf_grist_model *g, const struct wf_problem *p)
{
    (void)p;
    for (size_t i = 0; i < g->item_count; i++)
        wf_model_set_cost(g->model, g->items[i].use, 1);
}

static void cost_of_deviation(struct wf_grist_model *g, const struct wf_problem *p)
{
    (void)p;
    for (int w = 0; w < 2; w++)
        for (int side = 0; side < 2; side++)
            if (g->deviation[w][side] >= 0)
                wf_model_set_cost(g->model, g->deviation[w][side], 1);
}

/* kg of what could have waited: the less, the more of the oldest and opened lots is used. */
static void cost_of_fresh(struct wf_grist_model *g, const struct wf_problem *p)
{
    for (size_t i = 0; i < g->item_count; i++)
        wf_model_set_cost(g->model, g->items[i].weight, p->malts[i].fresh * g->items[i].step);
}

static void cost_of_change(struct wf_grist_model *g, const struct wf_problem *p)
{
    (void)p;
    wf_charges_set(&g->change, g->model);
}

void wf_grist_model_goal(struct wf_grist_model *g, const struct wf_problem *p, enum wf_goal goal)
{
    static void (*const set[WF_GOAL_COUNT])(struct wf_grist_model *, const struct wf_problem *) = {
        [WF_GOAL_COST] = cost_of_money,        [WF_GOAL_FEWEST] = cost_of_count,
        [WF_GOAL_CLOSEST] = cost_of_deviation, [WF_GOAL_USE_UP] = cost_of_fresh,
        [WF_GOAL_CHANGE] = cost_of_change,
    };
    wf_model_clear_costs(g->model);
    set[goal](g, p);
}

void wf_grist_model_weights(const struct wf_grist_model *g, const double *x, double *kg)
{
    for (size_t i = 0; i < g->item_count; i++)
        kg[i] = round(x[g->items[i].weight]) * g->items[i].step;
}
