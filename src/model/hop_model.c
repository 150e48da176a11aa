/*
 * The hops as rows, at the gravity of the grist.
 */
#include "model/hop_model.h"

#include "base/alloc.h"
#include "base/try.h"
#include "model/wish_rows.h"

#include <math.h>
#include <string.h>

struct build {
    const struct wf_problem *p;
    const struct wf_hop_options *o;
    struct wf_hop_model *h;
    double boil_gravity; /* at which the rows are written: that of og_low */
};

/* ---- Columns --------------------------------------------------------------------------------- */

/* A dose of one value is met to the nearest step; one of a window within it, widened to whole steps
 * where it would fall between two. */
static struct wf_range dose_grams(const struct build *b, const struct wf_slot *s, double step)
{
    double batch = b->p->kettle.batch_l;
    struct wf_range g = {s->dose.low * batch, s->dose.high * batch, NAN};
    if (!s->dosed || !(g.high - g.low < step))
        return g;
    double middle = round((g.low + g.high) / 2 / step) * step;
    return (struct wf_range){fmin(g.low, middle), fmax(g.high, middle), NAN};
}

static void add_place(struct build *b, size_t i)
{
    const struct wf_place *place = &b->p->places[i];
    const struct wf_pick_hop *hop = &b->p->hops[place->hop];
    const struct wf_slot *slot = &b->p->target->slots[place->slot];
    struct wf_model *m = b->h->model;
    double most = floor(hop->most_g / hop->step_g + 1e-9),
           least = round(hop->least_g / hop->step_g);
    if (slot->dosed && isfinite(slot->dose.high) && !b->o->elastic)
        most = fmin(most, floor(dose_grams(b, slot, hop->step_g).high / hop->step_g + 1e-9));
    if (most < least)
        most = 0;
    struct wf_item item = {.step = hop->step_g,
                           .least = least,
                           .pack = -1,
                           .present = b->h->present[place->hop],
                           .group = (int)place->slot};
    item.weight = wf_model_column(m, 0, most, 0, true, hop->lot->id);
    item.use = wf_model_column(m, 0, most > 0 ? 1 : 0, 0, true, hop->lot->id);
    b->h->items[i] = item;

    int row = wf_model_row(m, 0, INFINITY, "least weight worth adding");
    wf_model_term(m, row, item.weight, 1);
    wf_model_term(m, row, item.use, -least);
    row = wf_model_row(m, -INFINITY, 0, "weight only if used");
    wf_model_term(m, row, item.weight, 1);
    wf_model_term(m, row, item.use, -most);
    if (!b->h->counted)
        return;
    row = wf_model_row(m, 0, INFINITY, "present if used");
    wf_model_term(m, row, b->h->present[place->hop], 1);
    wf_model_term(m, row, item.use, -1);
}

/* What of a hop goes into all its slots: no more than the stock, in whole packs. */
static void add_hop(struct build *b, size_t hop)
{
    const struct wf_pick_hop *pick = &b->p->hops[hop];
    struct wf_model *m = b->h->model;
    int stock = wf_model_row(m, -INFINITY, pick->most_g, "stock"), packs = -1;
    if (isfinite(pick->pack_g)) {
        b->h->packs[hop] =
            wf_model_column(m, 0, ceil(pick->most_g / pick->pack_g), 0, true, pick->lot->id);
        packs = wf_model_row(m, 0, INFINITY, "whole packs");
        wf_model_term(m, packs, b->h->packs[hop], pick->pack_g);
    }
    for (size_t i = 0; i < b->p->place_count; i++) {
        const struct wf_item *item = &b->h->items[i];
        if (b->p->places[i].hop != hop)
            continue;
        wf_model_term(m, stock, item->weight, item->step);
        if (packs >= 0)
            wf_model_term(m, packs, item->weight, -item->step);
    }
}

static bool has_place(const struct wf_problem *p, size_t hop)
{
    for (size_t i = 0; i < p->place_count; i++)
        if (p->places[i].hop == hop)
            return true;
    return false;
}

/* A hop is present if and only if it is used somewhere. */
static void add_presence(struct build *b, size_t hop)
{
    int row = wf_model_row(b->h->model, 0, INFINITY, "present only if used");
    wf_model_term(b->h->model, row, b->h->present[hop], -1);
    for (size_t i = 0; i < b->p->place_count; i++)
        if (b->p->places[i].hop == hop)
            wf_model_term(b->h->model, row, b->h->items[i].use, 1);
}

/* A recipe that has more already may keep as many. */
static int varieties_most(const struct wf_problem *p)
{
    int had = 0;
    for (size_t i = 0; p->from && i < p->from->hop_count; i++) {
        bool first = true;
        for (size_t k = 0; k < i; k++)
            first = first && strcmp(p->from->hops[k].id, p->from->hops[i].id) != 0;
        had += first;
    }
    return had > WF_HOPS_MOST ? had : WF_HOPS_MOST;
}

/* Where the slots hold no more varieties together than a beer may have, nobody needs to count them.
 */
static bool must_count(const struct build *b)
{
    int most = 0;
    bool limited = false;
    for (size_t s = 0; s < b->p->target->slot_count; s++)
        most += b->p->target->slots[s].most;
    for (size_t i = 0; i < b->p->limit_count; i++)
        limited |= b->p->limits[i].of_hops && b->p->limits[i].kind == WF_LIMIT_FEW;
    return b->o->counted || limited || most > varieties_most(b->p);
}

static void add_columns(struct build *b)
{
    b->h->counted = must_count(b);
    int nothing = wf_model_column(b->h->model, 0, 0, 0, false, "nothing"); /* no model is empty */
    wf_model_term(b->h->model, wf_model_row(b->h->model, 0, 0, "nothing"), nothing, 1);
    for (size_t i = 0; i < b->p->hop_count; i++) {
        b->h->packs[i] = b->h->present[i] = -1;
        if (b->h->counted)
            b->h->present[i] = wf_model_column(b->h->model, 0, has_place(b->p, i) ? 1 : 0, 0, true,
                                               b->p->hops[i].lot->id);
    }
    for (size_t i = 0; i < b->p->place_count; i++)
        add_place(b, i);
    for (size_t i = 0; i < b->p->hop_count; i++)
        add_hop(b, i);
    if (!b->h->counted)
        return;
    int varieties = wf_model_row(b->h->model, -INFINITY, varieties_most(b->p), "hop varieties");
    for (size_t i = 0; i < b->p->hop_count; i++) {
        add_presence(b, i);
        wf_model_term(b->h->model, varieties, b->h->present[i], 1);
    }
}

/* ---- Rows ------------------------------------------------------------------------------------ */

/* An IBU at gravity og is worth how many at the reference gravity: by the laws' own function, of an
 * addition that stands for all. */
static enum wf_status moved(const struct wf_kettle *k, double og, double reference, double ibu,
                            double *at_reference)
{
    const struct wf_addition any = {
        .use = WF_HOP_BOIL, .alpha = 0.1, .minutes = k->boil_minutes, .form = 1};
    double gravity, here, there;
    *at_reference = ibu;
    if (!isfinite(ibu) || k->boil_minutes <= 0)
        return WF_OK;
    WF_TRY(wf_boil_gravity(og, k, &gravity));
    WF_TRY(wf_ibu_per_gram(&any, k, gravity, &here));
    WF_TRY(wf_boil_gravity(reference, k, &gravity));
    WF_TRY(wf_ibu_per_gram(&any, k, gravity, &there));
    *at_reference = ibu * there / here;
    return WF_OK;
}

enum wf_status wf_hop_wanted(const struct wf_problem *p, double reference, double og_low,
                             double og_high, struct wf_range *out, double aim[2])
{
    struct wf_range at_low = wf_problem_bitterness(p, og_low);
    struct wf_range at_high = wf_problem_bitterness(p, og_high);
    WF_TRY(moved(&p->kettle, og_low, reference, at_low.low, &out->low));
    WF_TRY(moved(&p->kettle, og_high, reference, at_high.high, &out->high));
    WF_TRY(moved(&p->kettle, og_low, reference, at_low.aim, &aim[0]));
    return moved(&p->kettle, og_high, reference, at_high.aim, &aim[1]);
}

enum wf_status wf_hop_given(const struct wf_problem *p, double reference, const double *grams,
                            double *ibu)
{
    double gravity, per_gram, sum = 0;
    WF_TRY(wf_boil_gravity(reference, &p->kettle, &gravity));
    for (size_t i = 0; i < p->place_count; i++) {
        if (!(grams[i] > 0))
            continue;
        WF_TRY(wf_ibu_per_gram(&p->places[i].addition, &p->kettle, gravity, &per_gram));
        sum += grams[i] * per_gram;
    }
    *ibu = sum;
    return WF_OK;
}

static enum wf_status bitterness_terms(const struct build *b, int row)
{
    for (size_t i = 0; i < b->p->place_count; i++) {
        double per_gram;
        WF_TRY(
            wf_ibu_per_gram(&b->p->places[i].addition, &b->p->kettle, b->boil_gravity, &per_gram));
        wf_model_term(b->h->model, row, b->h->items[i].weight, per_gram * b->h->items[i].step);
    }
    return WF_OK;
}

static enum wf_status add_bitterness(struct build *b)
{
    struct wf_range wanted;
    double aim[2];
    if (wf_range_is_any(wf_problem_bitterness(b->p, b->o->og_low)))
        return WF_OK;
    WF_TRY(wf_hop_wanted(b->p, b->o->og_low, b->o->og_low, b->o->og_high, &wanted, aim));
    int row = wf_wish_row(b->h->model, wanted.low, wanted.high, b->o->elastic, 1, "bitterness");
    b->h->bitterness_row = row;
    WF_TRY(bitterness_terms(b, row));
    if (!isfinite(aim[0]) || !b->o->aims)
        return WF_OK;
    row = wf_aim_row(b->h->model, aim, aim[0] - wanted.low, wanted.high - aim[1], b->h->deviation,
                     "bitterness from its aim");
    return bitterness_terms(b, row);
}

/* The mean score of what goes into a slot of several varieties, on the right side of the wish. */
static void add_slot_wish(struct build *b, size_t slot, const struct wf_word_wish *w, double bound,
                          bool at_most)
{
    int row = wf_wish_row(b->h->model, at_most ? -INFINITY : 0, at_most ? 0 : INFINITY,
                          b->o->elastic, 5, wf_word_name(w->word));
    for (size_t i = 0; i < b->p->place_count; i++) {
        const struct wf_place *place = &b->p->places[i];
        if (place->slot != slot)
            continue;
        double score = b->p->hops[place->hop].lot->character[w->word - WF_MALT_WORD_COUNT];
        wf_model_term(b->h->model, row, b->h->items[i].weight,
                      (score - bound) * b->h->items[i].step);
    }
}

static void add_slot(struct build *b, size_t s)
{
    const struct wf_slot *slot = &b->p->target->slots[s];
    struct wf_model *m = b->h->model;
    int count = wf_model_row(m, -INFINITY, slot->most, slot->at), dose = -1;
    if (slot->dosed) {
        struct wf_range g = dose_grams(b, slot, b->p->brewhouse->step_hop_g);
        dose = wf_wish_row(m, g.low, g.high, b->o->elastic, 2, slot->at);
    }
    for (size_t i = 0; i < b->p->place_count; i++) {
        if (b->p->places[i].slot != s)
            continue;
        wf_model_term(m, count, b->h->items[i].use, 1);
        if (dose >= 0)
            wf_model_term(m, dose, b->h->items[i].weight, b->h->items[i].step);
    }
    for (size_t i = 0; slot->most > 1 && i < slot->wish_count; i++) {
        const struct wf_word_wish *w = &slot->wishes[i];
        if (isfinite(w->index.low) && w->index.low > 0)
            add_slot_wish(b, s, w, w->index.low, false);
        if (isfinite(w->index.high) && w->index.high < 5)
            add_slot_wish(b, s, w, w->index.high, true);
    }
}

static void add_character(struct build *b)
{
    double scale = 1 / (WF_LATE_HOP_DOSE * b->p->kettle.batch_l);
    for (size_t j = 0; j < b->p->target->wish_count; j++) {
        const struct wf_word_wish *w = &b->p->target->wishes[j];
        if (w->word < WF_MALT_WORD_COUNT)
            continue;
        int row = wf_wish_row(b->h->model, w->index.low > 0 ? w->index.low : -(double)INFINITY,
                              w->index.high, b->o->elastic, 0.25, wf_word_name(w->word));
        for (size_t i = 0; i < b->p->place_count; i++) {
            const struct wf_place *place = &b->p->places[i];
            double score = b->p->hops[place->hop].lot->character[w->word - WF_MALT_WORD_COUNT];
            wf_model_term(b->h->model, row, b->h->items[i].weight,
                          place->late * score * scale * b->h->items[i].step);
        }
    }
}

static bool names_hop(const struct wf_store *s, const char *id)
{
    const char *one[] = {id, NULL};
    for (size_t i = 0; i < s->hop_count; i++)
        if (wf_id_listed(one, s->hops[i].id, s->hops[i].of))
            return true;
    return false;
}

static void add_use(struct build *b)
{
    for (const char *const *id = b->p->target->use; id != NULL && *id != NULL; id++) {
        const char *one[] = {*id, NULL};
        if (!names_hop(b->p->store, *id))
            continue;
        int row = wf_wish_row(b->h->model, 1, INFINITY, b->o->elastic, 0.2, *id);
        for (size_t i = 0; i < b->p->place_count; i++) {
            const struct wf_hop *lot = b->p->hops[b->p->places[i].hop].lot;
            if (wf_id_listed(one, lot->id, lot->of))
                wf_model_term(b->h->model, row, b->h->items[i].use, 1);
        }
    }
}

/* At most so many of these hops, wherever they go. */
static void add_few(struct build *b, const struct wf_limit *l)
{
    int row = wf_model_row(b->h->model, -(double)INFINITY, l->most, "apart from other recipes");
    for (size_t hop = 0; hop < b->p->hop_count; hop++) {
        bool one = false;
        for (size_t i = 0; i < b->p->place_count; i++)
            one |= b->p->places[i].hop == hop && l->part[i] > 0;
        if (one)
            wf_model_term(b->h->model, row, b->h->present[hop], 1);
    }
}

/* Never missed: they tell one recipe from another. */
static void add_limits(struct build *b)
{
    struct wf_model *m = b->h->model;
    for (size_t k = 0; k < b->p->limit_count; k++) {
        const struct wf_limit *l = &b->p->limits[k];
        if (l->of_hops && l->kind == WF_LIMIT_FEW)
            add_few(b, l);
        if (!l->of_hops || l->kind == WF_LIMIT_FEW)
            continue;
        int row = wf_model_row(m, 1, INFINITY, "apart from other recipes");
        for (size_t i = 0; i < b->p->place_count; i++) {
            const struct wf_item *item = &b->h->items[i];
            if (l->kind == WF_LIMIT_AMOUNT)
                wf_model_term(m, row, item->weight, l->part[i] * item->step);
            else if (l->part[i] > 0)
                wf_model_term(m, row, item->use, 1);
        }
    }
}

/* ---- The whole ------------------------------------------------------------------------------- */

static enum wf_status fill(struct build *b)
{
    WF_TRY(wf_boil_gravity(b->o->og_low, &b->p->kettle, &b->boil_gravity));
    add_columns(b);
    WF_TRY(add_bitterness(b));
    for (size_t s = 0; s < b->p->target->slot_count; s++)
        add_slot(b, s);
    add_character(b);
    add_use(b);
    add_limits(b);
    if (b->o->change && b->p->from &&
        !wf_change_hops(b->h->model, b->p, b->h->items, &b->h->change))
        return WF_MEMORY;
    return WF_OK;
}

enum wf_status wf_hop_model_make(const struct wf_problem *p, const struct wf_hop_options *o,
                                 struct wf_hop_model *out, struct wf_error *e)
{
    struct wf_hop_model h = {.item_count = p->place_count,
                             .hop_count = p->hop_count,
                             .bitterness_row = -1,
                             .deviation = {-1, -1}};
    struct build b = {.p = p, .o = o, .h = &h};
    enum wf_status status = WF_MEMORY;
    h.model = wf_model_new();
    h.items = wf_alloc(p->place_count, sizeof *h.items);
    h.present = wf_alloc(p->hop_count, sizeof *h.present);
    h.packs = wf_alloc(p->hop_count, sizeof *h.packs);
    if (h.model == NULL || h.items == NULL || h.present == NULL || h.packs == NULL) {
        wf_error_add(e, WF_MEMORY, "out of memory");
        goto done;
    }
    status = fill(&b);
    if (status == WF_MEMORY) {
        wf_error_add(e, status, "out of memory");
        goto done;
    }
    if (status != WF_OK) {
        wf_error_add(e, status, "a wanted bitterness is outside the range of the brewing laws");
        goto done;
    }
    WF_TRY_GOTO(wf_model_check(h.model, e));
    *out = h;
    return WF_OK;
done:
    wf_hop_model_free(&h);
    return status;
}

void wf_hop_model_free(struct wf_hop_model *h)
{
    wf_model_free(h->model);
    wf_free(h->items);
    wf_free(h->present);
    wf_free(h->packs);
    wf_charges_free(&h->change);
    *h = (struct wf_hop_model){0};
}

/* ---- Goals ----------------------------------------------------------------------------------- */

static void cost_of_money(struct wf_hop_model *h, const struct wf_problem *p)
{
    for (size_t i = 0; i < h->item_count; i++)
        wf_model_set_cost(h->model, h->items[i].weight,
                          p->hops[p->places[i].hop].price * h->items[i].step);
    for (size_t i = 0; i < h->hop_count; i++)
        if (h->packs[i] >= 0)
            wf_model_set_cost(h->model, h->packs[i], p->hops[i].pack_price);
}

static void cost_of_count(struct wf_hop_model *h, const struct wf_problem *p)
{
    (void)p;
    for (size_t i = 0; i < h->hop_count; i++)
        if (h->present[i] >= 0)
            wf_model_set_cost(h->model, h->present[i], 1);
}

static void cost_of_deviation(struct wf_hop_model *h, const struct wf_problem *p)
{
    (void)p;
    for (int side = 0; side < 2; side++)
        if (h->deviation[side] >= 0)
            wf_model_set_cost(h->model, h->deviation[side], 1);
}

static void cost_of_fresh(struct wf_hop_model *h, const struct wf_problem *p)
{
    for (size_t i = 0; i < h->item_count; i++)
        wf_model_set_cost(h->model, h->items[i].weight,
                          p->hops[p->places[i].hop].fresh * h->items[i].step / 1000);
}

static void cost_of_change(struct wf_hop_model *h, const struct wf_problem *p)
{
    (void)p;
    wf_charges_set(&h->change, h->model);
}

void wf_hop_model_goal(struct wf_hop_model *h, const struct wf_problem *p, enum wf_goal goal)
{
    static void (*const set[WF_GOAL_COUNT])(struct wf_hop_model *, const struct wf_problem *) = {
        [WF_GOAL_COST] = cost_of_money,        [WF_GOAL_FEWEST] = cost_of_count,
        [WF_GOAL_CLOSEST] = cost_of_deviation, [WF_GOAL_USE_UP] = cost_of_fresh,
        [WF_GOAL_CHANGE] = cost_of_change,
    };
    wf_model_clear_costs(h->model);
    set[goal](h, p);
}

void wf_hop_model_grams(const struct wf_hop_model *h, const double *x, double *grams)
{
    for (size_t i = 0; i < h->item_count; i++)
        grams[i] = round(x[h->items[i].weight]) * h->items[i].step;
}
