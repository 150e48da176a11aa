/* brute.c: all grists, then all hops for each grist that meets its own wishes, then all yeasts. */
#include "support/brute.h"

#include <math.h>
#include <string.h>

#define RANKS_MOST 4

struct hunt {
    struct gen *g;
    struct gen_recipe r;
    struct brute by_rank[RANKS_MOST]; /* rank of the yeast in the target's list */
    size_t tried;
    brute_visit *visit; /* NULL: only the best are wanted */
    void *data;
};

/* ---- What is found --------------------------------------------------------------------------- */

static void clear(struct brute *b)
{
    *b = (struct brute){0};
    for (int sure = 0; sure < BRUTE_SURE_COUNT; sure++) {
        for (int goal = 0; goal < WF_GOAL_COUNT; goal++)
            b->best[goal][sure] = HUGE_VAL;
        b->fewest_cost[sure] = HUGE_VAL;
    }
}

static void note(struct brute *b, const struct verdict *v, enum brute_sure sure)
{
    double count = v->value[WF_GOAL_FEWEST], cost = v->value[WF_GOAL_COST];
    if (count < b->best[WF_GOAL_FEWEST][sure])
        b->fewest_cost[sure] = cost;
    else if (count <= b->best[WF_GOAL_FEWEST][sure])
        b->fewest_cost[sure] = fmin(b->fewest_cost[sure], cost);
    for (int goal = 0; goal < WF_GOAL_COUNT; goal++)
        b->best[goal][sure] = fmin(b->best[goal][sure], v->value[goal]); /* fmin leaves NaN out */
}

static size_t rank_of(const struct gen *g, size_t yeast)
{
    const char *const *wanted = g->target.yeasts;
    if (yeast == GEN_NO_YEAST || wanted == NULL)
        return 0;
    size_t rank = 0;
    while (wanted[rank] != NULL && strcmp(wanted[rank], g->store.yeasts[yeast].id) != 0 &&
           strcmp(wanted[rank], g->store.yeasts[yeast].family) != 0)
        rank++;
    return rank < RANKS_MOST ? rank : RANKS_MOST - 1;
}

static void weigh_up(struct hunt *h)
{
    struct verdict v;
    judge(h->g, &h->r, &v);
    h->tried++;
    if (!v.allowed || v.margin < -JUDGE_UNSURE)
        return;
    if (h->visit != NULL)
        h->visit(h->data, &h->r, &v, v.margin > JUDGE_UNSURE, rank_of(h->g, h->r.yeast));
    struct brute *b = &h->by_rank[rank_of(h->g, h->r.yeast)];
    b->recipes++;
    note(b, &v, BRUTE_PERHAPS);
    if (v.margin > JUDGE_UNSURE)
        note(b, &v, BRUTE_SURE);
}

/* ---- All ways -------------------------------------------------------------------------------- */

static void try_yeasts(struct hunt *h)
{
    h->r.yeast = GEN_NO_YEAST;
    if (h->g->store.yeast_count == 0)
        weigh_up(h);
    for (size_t y = 0; y < h->g->store.yeast_count; y++) {
        h->r.yeast = y;
        weigh_up(h);
    }
}

static double hop_left(const struct hunt *h, size_t hop)
{
    double left = h->g->store.hops[hop].have_g;
    for (size_t s = 0; s < h->g->target.slot_count; s++)
        left -= h->r.grams[s * h->g->store.hop_count + hop];
    return left;
}

/* Places in order of slot and hop: each is left empty, or filled with every weight in stock. */
static void try_hops(struct hunt *h, size_t place)
{
    size_t width = h->g->store.hop_count, slot = place / width;
    if (slot == h->g->target.slot_count) {
        try_yeasts(h);
        return;
    }
    try_hops(h, place + 1);
    int varieties = 0;
    for (size_t i = slot * width; i < place; i++)
        varieties += h->r.grams[i] > 0 ? 1 : 0;
    if (varieties >= h->g->target.slots[slot].most)
        return;
    double step = h->g->brewhouse.step_hop_g, most = hop_left(h, place % width);
    for (long n = 1; (double)n * step <= most + 1e-9; n++) {
        h->r.grams[place] = (double)n * step;
        if (h->r.grams[place] >= h->g->brewhouse.least_hop_g - 1e-9)
            try_hops(h, place + 1);
    }
    h->r.grams[place] = 0;
}

static bool too_strong(const struct hunt *h, size_t malts)
{
    struct gen g = *h->g;
    struct verdict v;
    g.store.malt_count = malts;
    judge_grist(&g, &h->r, &v);
    return v.beer.og <= 0 || v.beer.og > g.target.og.high + 1e-4; /* 0: past the laws' range */
}

static void try_malts(struct hunt *h, size_t malt)
{
    struct verdict v;
    if (malt == h->g->store.malt_count) {
        judge_grist(h->g, &h->r, &v);
        h->tried++;
        if (v.allowed && v.margin >= -JUDGE_UNSURE)
            try_hops(h, 0);
        return;
    }
    try_malts(h, malt + 1);
    const struct wf_malt *m = &h->g->store.malts[malt];
    double step = gen_step_kg(h->g, m);
    for (long n = 1; (double)n * step <= m->have_kg + 1e-9; n++) {
        h->r.kg[malt] = (double)n * step;
        if (too_strong(h, malt + 1))
            break;
        try_malts(h, malt + 1);
    }
    h->r.kg[malt] = 0;
}

void brute_search(struct gen *g, struct brute *out)
{
    struct hunt h = {.g = g, .r = gen_recipe_new(g)};
    for (int rank = 0; rank < RANKS_MOST; rank++)
        clear(&h.by_rank[rank]);
    try_malts(&h, 0);
    int rank = 0;
    while (rank + 1 < RANKS_MOST && h.by_rank[rank].recipes == 0)
        rank++;
    *out = h.by_rank[rank];
    out->tried = h.tried;
}

void brute_each(struct gen *g, brute_visit *visit, void *data)
{
    struct hunt h = {.g = g, .r = gen_recipe_new(g), .visit = visit, .data = data};
    for (int rank = 0; rank < RANKS_MOST; rank++)
        clear(&h.by_rank[rank]);
    try_malts(&h, 0);
}
