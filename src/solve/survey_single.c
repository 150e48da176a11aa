#include "solve/survey_single.h"

#include "base/alloc.h"
#include "base/try.h"
#include "solve/solve_parts.h"
#include "solve/survey_buy.h"

#include <math.h>
#include <string.h>

#define ANY_GAP 1e9 /* whether there is a recipe is all that is asked */

bool wf_singles_join(const struct wf_store *s, const struct wf_store *shop, struct wf_arena *arena,
                     struct wf_singles *out)
{
    bool good = true;
    size_t unpriced;
    out->store = s;
    for (int kind = 0; good && kind < WF_KIND_COUNT; kind++) {
        struct wf_store part = *shop;
        part.malt_count = kind == WF_KIND_MALT ? shop->malt_count : 0;
        part.hop_count = kind == WF_KIND_HOP ? shop->hop_count : 0;
        part.yeast_count = kind == WF_KIND_YEAST ? shop->yeast_count : 0;
        good = wf_buy_join(s, &part, arena, &out->joined[kind], &unpriced);
    }
    return good;
}

size_t wf_singles_count(const struct wf_singles *s, enum wf_kind kind)
{
    const struct wf_store *joined = &s->joined[kind], *store = s->store;
    return kind == WF_KIND_MALT  ? joined->malt_count - store->malt_count
           : kind == WF_KIND_HOP ? joined->hop_count - store->hop_count
                                 : joined->yeast_count - store->yeast_count;
}

struct single {
    const struct wf_singles *s;
    struct wf_problem p;
    struct wf_solve_options o;
    bool *makes;
    bool *open;
    struct wf_error *e;
};

/* Whether there is a recipe; *a is to be cleared. */
static enum wf_status search(struct single *q, struct wf_answer *a, bool *found)
{
    struct wf_clock clock = wf_clock_start(&q->o);
    enum wf_goal goals[WF_GOAL_COUNT];
    struct wf_search_options options = wf_solve_search_options(&q->o, goals, &clock);
    *a = (struct wf_answer){0};
    WF_TRY(wf_solve_search(&q->p, &options, a, q->e));
    if (wf_clock_cancelled(&clock))
        return wf_error_add(q->e, WF_CANCELLED, "stopped");
    *found = a->kg != NULL;
    if (!*found && a->outcome != WF_OUTCOME_INFEASIBLE)
        *q->open = true;
    return WF_OK;
}

/* ---- Malts and hops -------------------------------------------------------------------------- */

/* Takes the shop's lots that the recipe uses, one at most, out of the problem; false: there was
 * none. */
static bool take_malt(struct single *q, const struct wf_answer *a)
{
    const struct wf_malt *first = q->p.store->malts + q->s->store->malt_count;
    bool taken = false;
    for (size_t i = 0; i < q->p.malt_count; i++) {
        struct wf_pick_malt *m = &q->p.malts[i];
        if (m->lot < first || !(a->kg[i] > 0))
            continue;
        q->makes[m->lot - first] = taken = true;
        m->most_kg = 0;
    }
    return taken;
}

static bool take_hop(struct single *q, const struct wf_answer *a)
{
    const struct wf_hop *first = q->p.store->hops + q->s->store->hop_count;
    bool taken = false;
    for (size_t i = 0; i < q->p.place_count; i++) {
        struct wf_pick_hop *h = &q->p.hops[q->p.places[i].hop];
        if (h->lot < first || !(a->grams[i] > 0))
            continue;
        q->makes[h->lot - first] = taken = true;
        h->most_g = 0;
    }
    return taken;
}

/* At most one of the shop's. */
static bool limit(struct single *q, enum wf_kind kind, struct wf_limit *l, double **own)
{
    bool hops = kind == WF_KIND_HOP;
    double *part = wf_alloc(hops ? q->p.place_count : q->p.malt_count, sizeof *part);
    if (part == NULL)
        return false;
    for (size_t i = 0; !hops && i < q->p.malt_count; i++)
        part[i] = q->p.malts[i].lot >= q->p.store->malts + q->s->store->malt_count;
    for (size_t i = 0; hops && i < q->p.place_count; i++)
        part[i] = q->p.hops[q->p.places[i].hop].lot >= q->p.store->hops + q->s->store->hop_count;
    *l = (struct wf_limit){.kind = WF_LIMIT_FEW, .of_hops = hops, .part = part, .most = 1};
    *own = part;
    q->p.limits = l;
    q->p.limit_count = 1;
    return true;
}

static enum wf_status find_weighed(struct single *q, enum wf_kind kind)
{
    struct wf_limit l;
    double *part = NULL;
    bool found = true;
    enum wf_status status = WF_OK;
    if (!limit(q, kind, &l, &part))
        return wf_error_add(q->e, WF_MEMORY, "out of memory");
    while (status == WF_OK && found) {
        struct wf_answer a;
        status = search(q, &a, &found);
        if (status == WF_OK && found)
            found = (kind == WF_KIND_MALT ? take_malt : take_hop)(q, &a);
        wf_answer_clear(&a);
    }
    wf_free(part);
    return status;
}

/* ---- Yeasts ---------------------------------------------------------------------------------- */

/* One after the other, each alone. */
static enum wf_status find_yeasts(struct single *q)
{
    const struct wf_yeast *first = q->p.store->yeasts + q->s->store->yeast_count;
    struct wf_pick_yeast *all = q->p.yeasts;
    size_t count = q->p.yeast_count;
    enum wf_status status = WF_OK;
    q->p.yeast_count = 1;
    for (size_t i = 0; status == WF_OK && i < count; i++) {
        struct wf_answer a;
        bool found = false;
        if (all[i].lot < first)
            continue;
        q->p.yeasts = &all[i];
        status = search(q, &a, &found);
        if (status == WF_OK && found)
            q->makes[all[i].lot - first] = true;
        wf_answer_clear(&a);
    }
    q->p.yeasts = all;
    q->p.yeast_count = count;
    return status;
}

/* ---- The whole ------------------------------------------------------------------------------- */

enum wf_status wf_singles_find(const struct wf_singles *s, const struct wf_target *t,
                               const struct wf_brewhouse *b, const struct wf_solve_options *o,
                               bool *const makes[WF_KIND_COUNT], bool *open, struct wf_error *e)
{
    enum wf_status status = WF_OK;
    *open = false;
    for (int kind = 0; status == WF_OK && kind < WF_KIND_COUNT; kind++) {
        struct single q = {.s = s, .o = *o, .makes = makes[kind], .open = open, .e = e};
        if (wf_singles_count(s, (enum wf_kind)kind) == 0)
            continue;
        q.o.goal_count = 1;
        q.o.goals[0] = WF_GOAL_COST;
        q.o.gap = ANY_GAP;
        WF_TRY(wf_problem_make(t, &s->joined[kind], b, o->today, &q.p, e));
        wf_buy_level_yeasts(&q.p);
        status = kind == WF_KIND_YEAST ? find_yeasts(&q) : find_weighed(&q, (enum wf_kind)kind);
        wf_problem_free(&q.p);
    }
    return status;
}
