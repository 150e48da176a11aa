/* refit_hops.c: the hops that a schedule may hold, as they are now. */
#include "solve/refit_parts.h"

#include "base/alloc.h"
#include "base/ascii.h"
#include "base/suggest.h"
#include "base/try.h"

#include <math.h>
#include <string.h>

static const struct wf_refit_alpha *on_the_bag(const struct wf_refit_options *o, const char *id,
                                               const char *of)
{
    for (size_t i = 0; i < o->alpha_count; i++)
        if (strcmp(o->alphas[i].hop, id) == 0 || (of != NULL && strcmp(o->alphas[i].hop, of) == 0))
            return &o->alphas[i];
    return NULL;
}

/* Adds a hop as the recipe has it (h) or as a lot or an entry has it (lot; its figures go before
 * the recipe's). SIZE_MAX: out of memory. */
static size_t add_hop(struct wf_refit_work *w, const struct wf_recipe_hop *h,
                      const struct wf_hop *lot)
{
    if (w->hop_count == w->hop_room)
        return SIZE_MAX;
    struct wf_refit_hop *hop = &w->hops[w->hop_count];
    *hop = (struct wf_refit_hop){
        .have_g = INFINITY, .step_g = w->o->brewhouse->step_hop_g, .price_per_g = NAN};
    if (h != NULL) {
        hop->id = h->id;
        hop->of = h->of;
        hop->name = h->name;
        hop->alpha = h->addition.alpha;
        hop->whole = h->whole;
        hop->character = h->character;
        hop->price_per_g = h->cost / h->grams;
    }
    if (lot != NULL) {
        hop->id = lot->id;
        hop->of = lot->of;
        hop->name = lot->name;
        hop->alpha = lot->alpha;
        hop->whole = lot->whole;
        hop->character = lot->character;
        hop->have_g = lot->have_g;
        hop->step_g = isfinite(lot->step_kg) ? lot->step_kg * 1000 : hop->step_g;
    }
    const struct wf_refit_alpha *bag = on_the_bag(w->o, hop->id, hop->of);
    if (bag != NULL)
        hop->alpha = bag->alpha;
    return w->hop_count++;
}

size_t wf_refit_hop_of_line(struct wf_refit_work *w, const struct wf_recipe_hop *h)
{
    for (size_t i = 0; i < w->hop_count; i++)
        if (strcmp(w->hops[i].id, h->id) == 0)
            return i;
    return add_hop(w, h, wf_store_hop(w->o->store, h->id));
}

bool wf_refit_is_called(const char *name, const char *id, const char *of, const char *full)
{
    return wf_ascii_same(name, id) || wf_ascii_same(name, full) ||
           (of != NULL && wf_ascii_same(name, of));
}

static const struct wf_hop *hop_among(const struct wf_hop *hops, size_t count, const char *name)
{
    for (size_t i = 0; i < count; i++)
        if (wf_refit_is_called(name, hops[i].id, hops[i].of, hops[i].name))
            return &hops[i];
    return NULL;
}

static void add_ids(const char **ids, size_t *count, const struct wf_hop *hops, size_t more)
{
    for (size_t i = 0; i < more; i++)
        ids[(*count)++] = hops[i].id;
}

/* Nobody is called so: names the nearest. */
static enum wf_status refuse_hop(struct wf_refit_work *w, const char *name)
{
    const struct wf_store *s = w->o->store;
    const struct wf_catalogue *c = w->o->catalogue;
    size_t lots = s != NULL ? s->hop_count : 0, entries = c != NULL ? c->hop_count : 0, count = 0;
    const char **ids = wf_arena_alloc(w->arena, lots + entries, sizeof *ids);
    if (ids == NULL)
        return wf_error_add(w->e, WF_MEMORY, "out of memory");
    if (s != NULL)
        add_ids(ids, &count, s->hops, lots);
    if (c != NULL)
        add_ids(ids, &count, c->hops, entries);
    int near = wf_suggest(name, ids, count);
    if (near < 0)
        return wf_error_add(w->e, WF_BAD_INPUT, "schedule: no hop is called '%s'", name);
    return wf_error_add(w->e, WF_BAD_INPUT, "schedule: no hop is called '%s', did you mean '%s'?",
                        name, ids[near]);
}

/* A hop by its name: of the recipe, then the store, then the catalogue. */
enum wf_status wf_refit_hop_called(struct wf_refit_work *w, const char *name, size_t *out)
{
    const struct wf_store *s = w->o->store;
    const struct wf_catalogue *c = w->o->catalogue;
    const struct wf_hop *lot = NULL;
    for (*out = 0; *out < w->hop_count; ++*out)
        if (wf_refit_is_called(name, w->hops[*out].id, w->hops[*out].of, w->hops[*out].name))
            return WF_OK;
    if (s != NULL)
        lot = hop_among(s->hops, s->hop_count, name);
    if (lot == NULL && c != NULL)
        lot = hop_among(c->hops, c->hop_count, name);
    if (lot == NULL)
        return refuse_hop(w, name);
    *out = add_hop(w, NULL, lot);
    return *out != SIZE_MAX ? WF_OK : wf_error_add(w->e, WF_MEMORY, "out of memory");
}

/* The recipe's hops, or the store's, where that is none: what may go where no hop is named. After
 * them what the schedule names. */
enum wf_status wf_refit_list_hops(struct wf_refit_work *w)
{
    const struct wf_store *s = w->o->store;
    size_t slots = w->o->slots != NULL ? w->o->slots->count : 0, hop;
    w->hop_room = w->from->hop_count + slots + (s != NULL ? s->hop_count : 0);
    w->hops = wf_arena_alloc(w->arena, w->hop_room, sizeof *w->hops);
    if (w->hops == NULL)
        return wf_error_add(w->e, WF_MEMORY, "out of memory");
    for (size_t i = 0; i < w->from->hop_count; i++)
        wf_refit_hop_of_line(w, &w->from->hops[i]);
    for (size_t i = 0; w->from->hop_count == 0 && s != NULL && i < s->hop_count; i++)
        add_hop(w, NULL, &s->hops[i]);
    w->any_count = w->hop_count;
    for (size_t i = 0; i < slots; i++)
        if (w->o->slots->list[i].hop != NULL)
            WF_TRY(wf_refit_hop_called(w, w->o->slots->list[i].hop, &hop));
    if (w->any_count == 0)
        w->any_count = w->hop_count;
    return WF_OK;
}
