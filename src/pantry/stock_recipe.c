/* stock_recipe.c: what a recipe takes out of the store. */
#include "pantry/stock_parts.h"

#include "base/alloc.h"
#include "base/number.h"
#include "base/try.h"

#include <math.h>
#include <string.h>

struct wf_stock_changes *wf_stock_changes_new(void)
{
    struct wf_arena *arena = wf_arena_new();
    struct wf_stock_changes *s = arena ? wf_arena_alloc(arena, 1, sizeof *s) : NULL;
    if (!s) {
        wf_arena_free(arena);
        return NULL;
    }
    s->arena = arena;
    return s;
}

void wf_stock_changes_free(struct wf_stock_changes *s)
{
    if (s)
        wf_arena_free(s->arena);
}

/* Grams of all additions of the hop, or 0 where an addition before the ith has counted them. */
static double grams_of(const struct wf_recipe *r, size_t i)
{
    double grams = 0;
    for (size_t k = 0; k < r->hop_count; k++) {
        if (strcmp(r->hops[k].id, r->hops[i].id) != 0)
            continue;
        if (k < i)
            return 0;
        grams += r->hops[k].grams;
    }
    return grams;
}

static double kilograms_of(const struct wf_recipe *r, size_t i)
{
    double kg = 0;
    for (size_t k = 0; k < r->malt_count; k++) {
        if (strcmp(r->malts[k].id, r->malts[i].id) != 0)
            continue;
        if (k < i)
            return 0;
        kg += r->malts[k].kg;
    }
    return kg;
}

/* Adds "take so much of it"; nothing where that is none. */
static bool take(struct wf_stock_changes *s, struct wf_stock_change *to, enum wf_kind kind,
                 const char *id, double amount, const char *unit)
{
    char figure[WF_NUMBER_TEXT_MAX];
    if (!(amount > 0) || !id)
        return true;
    if (!wf_number_print(amount, figure))
        return false;
    struct wf_stock_change *c = &to[s->count++];
    c->deed = WF_STOCK_USE;
    c->kind = kind;
    c->id = wf_arena_string(s->arena, id);
    c->place = wf_arena_print(s->arena, "recipe, %s", id);
    c->take = wf_arena_print(s->arena, "%s%s", figure, unit);
    return c->id && c->place && c->take;
}

static bool fill(struct wf_stock_changes *s, const struct wf_recipe *r)
{
    struct wf_stock_change *to =
        wf_arena_alloc(s->arena, r->malt_count + r->hop_count + 1, sizeof *to);
    bool good = to != NULL;
    s->changes = to;
    for (size_t i = 0; good && i < r->malt_count; i++)
        good = take(s, to, WF_KIND_MALT, r->malts[i].id, kilograms_of(r, i), " kg");
    for (size_t i = 0; good && i < r->hop_count; i++)
        good = take(s, to, WF_KIND_HOP, r->hops[i].id, grams_of(r, i), " g");
    return good && take(s, to, WF_KIND_YEAST, r->yeast.id, 1, "");
}

enum wf_status wf_stock_use_recipe(const struct wf_recipe *r, struct wf_stock_changes **out,
                                   struct wf_error *e)
{
    struct wf_stock_changes *s = wf_stock_changes_new();
    *out = NULL;
    if (s && fill(s, r)) {
        *out = s;
        return WF_OK;
    }
    wf_stock_changes_free(s);
    return wf_error_add(e, WF_MEMORY, "out of memory");
}
