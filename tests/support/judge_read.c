/* judge_read.c: the weights of a solved recipe. */
#include "support/judge.h"

#include <math.h>
#include <string.h>

/* A slot longer than the boil is the whole boil. */
static bool same_place(const struct wf_slot *s, const struct wf_addition *a, double boil)
{
    return s->use == a->use &&
           (s->use != WF_HOP_BOIL || fabs(fmin(s->minutes, boil) - a->minutes) < 1e-9) &&
           (s->use != WF_HOP_STAND ||
            (fabs(s->minutes - a->minutes) < 1e-9 && fabs(s->celsius - a->celsius) < 1e-9));
}

static bool read_hop(const struct gen *g, double boil, const struct wf_recipe_hop *from,
                     struct gen_recipe *to)
{
    for (size_t s = 0; s < g->target.slot_count; s++)
        for (size_t h = 0; h < g->store.hop_count; h++)
            if (same_place(&g->target.slots[s], &from->addition, boil) &&
                strcmp(g->store.hops[h].id, from->id) == 0) {
                to->grams[s * g->store.hop_count + h] += from->grams;
                return true;
            }
    return false;
}

static bool read_malt(const struct gen *g, const struct wf_recipe_malt *from, struct gen_recipe *to)
{
    for (size_t i = 0; i < g->store.malt_count; i++)
        if (strcmp(g->store.malts[i].id, from->id) == 0) {
            to->kg[i] += from->kg;
            return true;
        }
    return false;
}

bool judge_read(const struct gen *g, const struct wf_recipe *from, struct gen_recipe *to)
{
    bool known = true;
    memset(to->kg, 0, g->store.malt_count * sizeof *to->kg);
    memset(to->grams, 0, g->target.slot_count * g->store.hop_count * sizeof *to->grams);
    to->yeast = GEN_NO_YEAST;
    for (size_t i = 0; i < from->malt_count; i++)
        known = read_malt(g, &from->malts[i], to) && known;
    for (size_t i = 0; i < from->hop_count; i++)
        known = read_hop(g, from->kettle.boil_minutes, &from->hops[i], to) && known;
    for (size_t i = 0; i < g->store.yeast_count; i++)
        if (from->yeast.id != NULL && strcmp(g->store.yeasts[i].id, from->yeast.id) == 0)
            to->yeast = i;
    return known && (from->yeast.id == NULL || to->yeast != GEN_NO_YEAST);
}
