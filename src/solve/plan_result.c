/* From the choice of columns to a plan, its recipes predicted forwards and its sums checked. */
#include "solve/plan_parts.h"

#include "base/alloc.h"
#include "base/try.h"
#include "solve/assemble.h"
#include "solve/wishes.h"

#include <math.h>
#include <stdint.h>
#include <string.h>

static enum wf_status no_memory(struct wf_error *e)
{
    return wf_error_add(e, WF_MEMORY, "out of memory");
}

void wf_plan_free(struct wf_plan *p)
{
    if (p == NULL)
        return;
    for (size_t b = 0; b < p->beer_count; b++)
        wf_recipe_free(p->beers[b].recipe);
    wf_arena_free(p->arena);
}

/* NULL: out of memory. */
static struct wf_plan *new_plan(size_t beers)
{
    struct wf_arena *arena = wf_arena_new();
    struct wf_plan *p = arena == NULL ? NULL : wf_arena_alloc(arena, 1, sizeof *p);
    if (p != NULL)
        p->beers = wf_arena_alloc(arena, beers, sizeof *p->beers);
    if (p == NULL || p->beers == NULL) {
        wf_arena_free(arena);
        return NULL;
    }
    p->arena = arena;
    p->beer_count = beers;
    return p;
}

static enum wf_status add_names(const struct wf_planning *g, const struct wf_plan_beer *beers,
                                const struct wf_store *shop, struct wf_plan *p)
{
    const struct wf_store *s = &g->market.store;
    const char *shop_note = shop != NULL ? shop->note : NULL;
    p->currency = wf_arena_string(p->arena, s->currency != NULL ? s->currency : "");
    p->price_note = wf_arena_string(p->arena, s->note);
    p->shop_note = wf_arena_string(p->arena, shop_note);
    bool good = p->currency != NULL && (s->note == NULL || p->price_note != NULL) &&
                (shop_note == NULL || p->shop_note != NULL);
    for (size_t i = 0; i < g->all; i++) {
        struct wf_plan_place *place = &p->beers[g->given[i]];
        place->name = wf_arena_string(p->arena, beers[g->given[i]].target->name);
        place->batch_l = g->subs[i].problem.kettle.batch_l;
        good = good && place->name != NULL;
    }
    return good ? WF_OK : no_memory(g->e);
}

/* ---- Recipes --------------------------------------------------------------------------------- */

static enum wf_status add_recipe(const struct wf_planning *g, size_t beer, struct wf_recipe **out)
{
    const struct wf_problem *p = &g->subs[beer].problem;
    const struct wf_answer *a = &g->search.master.columns[g->search.choice.column[beer]]->answer;
    WF_TRY(wf_weights_verify(p, a, g->e));
    WF_TRY(wf_recipe_assemble(p, a, out, g->e));
    const struct wf_wish_result *missed = wf_wishes_missed(*out);
    if (missed != NULL)
        return wf_error_add(g->e, WF_INTERNAL,
                            "internal error: the recipe found for \"%s\" misses its wish for %s",
                            p->target->name, missed->wish);
    return WF_OK;
}

static enum wf_status add_recipes(const struct wf_planning *g, struct wf_plan *p)
{
    for (size_t b = 0; b < g->beer_count; b++) {
        WF_TRY(add_recipe(g, b, &p->beers[g->given[b]].recipe));
        p->brewed++;
    }
    return WF_OK;
}

/* ---- Lots ------------------------------------------------------------------------------------ */

/* What a recipe takes of a lot, by its own lines: not by what the search thought. */
static double taken(const struct wf_recipe *r, const struct wf_market_lot *lot)
{
    double sum = 0;
    if (r == NULL)
        return 0;
    for (size_t i = 0; lot->kind == WF_KIND_MALT && i < r->malt_count; i++)
        sum += strcmp(r->malts[i].id, lot->id) == 0 ? r->malts[i].kg : 0;
    for (size_t i = 0; lot->kind == WF_KIND_HOP && i < r->hop_count; i++)
        sum += strcmp(r->hops[i].id, lot->id) == 0 ? r->hops[i].grams : 0;
    if (lot->kind == WF_KIND_YEAST && r->yeast.id != NULL && strcmp(r->yeast.id, lot->id) == 0)
        sum = 1;
    return sum;
}

/* What must be bought of it, and for how much. */
static void buy(struct wf_plan_lot *l, const struct wf_market_lot *lot)
{
    double short_by = l->used - lot->hand;
    l->pack = l->packs = NAN;
    l->price = lot->price > 0 ? lot->price : (double)NAN;
    if (short_by < 1e-9)
        return;
    l->buy = short_by;
    if (isfinite(lot->pack)) {
        l->pack = lot->pack;
        l->packs = ceil(short_by / lot->pack - 1e-9);
        l->buy = l->packs * lot->pack;
    }
    l->money = l->buy * lot->price;
}

static enum wf_status add_lot(struct wf_plan *p, const struct wf_market_lot *lot,
                              struct wf_plan_lot *l, struct wf_error *e)
{
    double *by_beer = wf_arena_alloc(p->arena, p->beer_count, sizeof *by_beer);
    *l = (struct wf_plan_lot){.kind = lot->kind,
                              .id = wf_arena_string(p->arena, lot->id),
                              .name = wf_arena_string(p->arena, lot->name),
                              .new_lot = lot->new_lot,
                              .hand = lot->hand,
                              .by_beer = by_beer};
    if (by_beer == NULL || l->id == NULL || l->name == NULL)
        return no_memory(e);
    for (size_t b = 0; b < p->beer_count; b++) {
        by_beer[b] = taken(p->beers[b].recipe, lot);
        l->used += by_beer[b];
    }
    buy(l, lot);
    if (l->buy > lot->buy_most + 1e-6)
        return wf_error_add(e, WF_INTERNAL,
                            "internal error: the plan takes %.6f of \"%s\", more than there is",
                            l->used, l->id);
    return WF_OK;
}

static enum wf_status add_lots(const struct wf_planning *g, struct wf_plan *p)
{
    struct wf_plan_lot *lots = wf_arena_alloc(p->arena, g->market.count, sizeof *lots);
    if (lots == NULL)
        return no_memory(g->e);
    p->lots = lots;
    for (size_t l = 0; l < g->market.count; l++) {
        struct wf_plan_lot *lot = &lots[p->lot_count];
        WF_TRY(add_lot(p, &g->market.lots[l], lot, g->e));
        if (!(lot->used > 0))
            continue;
        p->money += lot->money;
        p->worth += lot->used * g->market.lots[l].worth;
        p->unpriced += g->market.lots[l].unpriced;
        p->lot_count++;
    }
    return WF_OK;
}

/* ---- Proof ----------------------------------------------------------------------------------- */

static bool agree(double a, double b)
{
    return fabs(a - b) <= 1e-5 * fmax(1, fabs(b));
}

static enum wf_status add_proofs(const struct wf_planning *g, const struct wf_solve_options *o,
                                 struct wf_plan *p)
{
    double wanted = o->gap > 0 ? o->gap : 1e-4;
    if (!(p->money <= g->money + 1e-5 * fmax(1, g->money)) || !agree(p->worth, g->worth))
        return wf_error_add(g->e, WF_INTERNAL,
                            "internal error: the search reckons %.9g and %.9g, the plan %.9g and "
                            "%.9g",
                            g->money, g->worth, p->money, p->worth);
    p->status = WF_RECIPE_OPTIMAL;
    p->proof_count = g->proof_count;
    for (size_t k = 0; k < g->proof_count; k++) {
        p->proofs[k] = g->proofs[k];
        if (p->proofs[k].gap > wanted * (1 + 1e-9))
            p->status = WF_RECIPE_GOOD;
    }
    for (size_t b = 0; b < p->beer_count; b++)
        if (p->beers[b].recipe != NULL)
            p->beers[b].recipe->status = p->status;
    return WF_OK;
}

/* ---- None ------------------------------------------------------------------------------------ */

static enum wf_status add_lacks(const struct wf_planning *g, struct wf_plan *p)
{
    struct wf_plan_lack *lacks = wf_arena_alloc(p->arena, g->market.count, sizeof *lacks);
    if (lacks == NULL)
        return no_memory(g->e);
    p->lacks = lacks;
    for (size_t l = 0; !isnan(g->search.choice.value) && l < g->market.count; l++) {
        const struct wf_market_lot *lot = &g->market.lots[l];
        double amount = g->search.choice.lack[l];
        if (!(amount > 1e-6))
            continue;
        struct wf_plan_lack *k = &lacks[p->lack_count++];
        *k = (struct wf_plan_lack){.kind = lot->kind,
                                   .id = wf_arena_string(p->arena, lot->id),
                                   .name = wf_arena_string(p->arena, lot->name),
                                   .amount = amount};
        if (k->id == NULL || k->name == NULL)
            return no_memory(g->e);
    }
    return WF_OK;
}

static void say_possible(const struct wf_planning *g, struct wf_plan *p)
{
    bool as_many = g->all > g->beer_count;
    for (size_t b = 0; b < g->all; b++)
        p->beers[g->given[b]].possible =
            b < g->beer_count && !as_many ? g->search.possible[b] : true;
    for (size_t b = 0; as_many && b < g->all; b++)
        p->beers[b].possible = g->possible[b];
}

static enum wf_status none(const struct wf_planning *g, struct wf_plan *p)
{
    size_t impossible = 0;
    p->status = WF_RECIPE_NONE;
    for (size_t b = 0; b < p->beer_count; b++)
        impossible += !p->beers[b].possible;
    if (impossible == 0)
        WF_TRY(add_lacks(g, p));
    if (impossible == p->beer_count && p->as_many)
        return wf_error_add(g->e, WF_NO_RECIPE,
                            "none of these beers can be brewed from the stock alone; a lot without "
                            "\"have\" is none of it");
    if (impossible == p->beer_count)
        return wf_error_add(g->e, WF_NO_RECIPE,
                            "none of these beers can be brewed from these lots");
    if (impossible > 0)
        return wf_error_add(g->e, WF_NO_RECIPE,
                            "not all of these beers can be brewed from these lots, even alone");
    return wf_error_add(g->e, WF_NO_RECIPE,
                        "each of these beers can be brewed from these lots, but not all of them: "
                        "the stock does not go round");
}

/* ---- The whole ------------------------------------------------------------------------------- */

static enum wf_status fill(const struct wf_planning *g, const struct wf_plan_options *o,
                           struct wf_plan *p)
{
    p->as_many = o->as_many;
    p->seconds = wf_clock_seconds(g->clock);
    say_possible(g, p);
    if (g->found == WF_PLAN_FOUND_UNDECIDED)
        return wf_error_add(g->e, WF_UNDECIDED,
                            "no plan found in the time given, and none ruled out: give more with "
                            "--time");
    if (g->found == WF_PLAN_FOUND_NONE)
        return none(g, p);
    WF_TRY(add_recipes(g, p));
    WF_TRY(add_lots(g, p));
    return add_proofs(g, &o->search, p);
}

enum wf_status wf_plan_result(const struct wf_planning *g, const struct wf_plan_beer *beers,
                              const struct wf_store *shop, const struct wf_plan_options *o,
                              struct wf_plan **out)
{
    struct wf_plan *p = new_plan(g->all);
    if (p == NULL)
        return no_memory(g->e);
    enum wf_status status = add_names(g, beers, shop, p);
    if (status == WF_OK)
        status = fill(g, o, p);
    if (status == WF_OK || status == WF_NO_RECIPE)
        *out = p;
    else
        wf_plan_free(p);
    return status;
}
