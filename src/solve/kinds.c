#include "solve/kinds.h"

#include "base/alloc.h"
#include "wortfit/choices.h"

#include <string.h>

double wf_noticed_share(enum wf_malt_class c)
{
    static const double share[WF_CLASS_COUNT] = {
        [WF_CLASS_BASE] = 0.05,  [WF_CLASS_HIGH_KILNED] = 0.05, [WF_CLASS_CARAMEL] = 0.02,
        [WF_CLASS_ROAST] = 0.01, [WF_CLASS_FLAKED] = 0.03,      [WF_CLASS_UNMALTED] = 0.03,
        [WF_CLASS_SUGAR] = 0.03, [WF_CLASS_OTHER] = 0.02,
    };
    return share[c];
}

/* ---- Kinds ----------------------------------------------------------------------------------- */

/* What a lot is, whoever's name it goes by. */
static const char *entry(const char *id, const char *of)
{
    return of != NULL ? of : id;
}

static const char *malt_entry(const struct wf_problem *p, size_t i)
{
    return entry(p->malts[i].lot->id, p->malts[i].lot->of);
}

static const char *hop_entry(const struct wf_problem *p, size_t i)
{
    return entry(p->hops[i].lot->id, p->hops[i].lot->of);
}

/* Numbers the entries of `count` lots from `first` on, each by its first lot; returns the next
 * number. */
static size_t number(const struct wf_problem *p, size_t count,
                     const char *(*name)(const struct wf_problem *, size_t), size_t first,
                     size_t *kind)
{
    size_t next = first;
    for (size_t i = 0; i < count; i++) {
        size_t same = 0;
        while (same < i && strcmp(name(p, same), name(p, i)) != 0)
            same++;
        kind[i] = same < i ? kind[same] : next++;
    }
    return next;
}

static void set_parts(struct wf_kinds *k, const struct wf_problem *p)
{
    for (size_t i = 0; i < p->malt_count; i++)
        k->malt_part[i] = 1 / wf_noticed_share(p->malts[i].lot->class);
    for (size_t i = 0; i < p->place_count; i++) {
        double heard = p->places[i].late > 0 ? 1 : WF_NOTICED_OF_EARLY;
        k->place_part[i] = heard / (WF_NOTICED_HOP_DOSE * p->kettle.batch_l);
    }
}

bool wf_kinds_make(const struct wf_problem *p, struct wf_arena *arena, struct wf_kinds *out)
{
    struct wf_kinds k = {0};
    k.of_hop = wf_arena_alloc(arena, p->hop_count, sizeof *k.of_hop);
    k.of_malt = wf_arena_alloc(arena, p->malt_count, sizeof *k.of_malt);
    k.of_place = wf_arena_alloc(arena, p->place_count, sizeof *k.of_place);
    k.lots = wf_arena_alloc(arena, p->malt_count + p->hop_count, sizeof *k.lots);
    k.malt_part = wf_arena_alloc(arena, p->malt_count, sizeof *k.malt_part);
    k.place_part = wf_arena_alloc(arena, p->place_count, sizeof *k.place_part);
    if (k.of_hop == NULL || k.of_malt == NULL || k.of_place == NULL || k.lots == NULL ||
        k.malt_part == NULL || k.place_part == NULL)
        return false;
    k.malts = number(p, p->malt_count, malt_entry, 0, k.of_malt);
    k.count = number(p, p->hop_count, hop_entry, k.malts, k.of_hop);
    for (size_t i = 0; i < p->malt_count; i++)
        k.lots[k.of_malt[i]]++;
    for (size_t i = 0; i < p->hop_count; i++)
        k.lots[k.of_hop[i]]++;
    for (size_t i = 0; i < p->place_count; i++)
        k.of_place[i] = k.of_hop[p->places[i].hop];
    set_parts(&k, p);
    *out = k;
    return true;
}

/* ---- Amounts --------------------------------------------------------------------------------- */

void wf_kinds_amounts(const struct wf_kinds *k, const struct wf_problem *p,
                      const struct wf_answer *a, double *amount)
{
    double kg = 0;
    for (size_t i = 0; i < k->count; i++)
        amount[i] = 0;
    for (size_t i = 0; i < p->malt_count; i++)
        kg += a->kg[i];
    for (size_t i = 0; i < p->malt_count; i++)
        if (a->kg[i] > 0)
            amount[k->of_malt[i]] += k->malt_part[i] * a->kg[i] / kg;
    for (size_t i = 0; i < p->place_count; i++)
        amount[k->of_place[i]] += k->place_part[i] * a->grams[i];
}

bool wf_amount_noticed(double amount)
{
    return amount >= 1 - WF_NOTICED_ROOM;
}

bool wf_amounts_differ(double a, double b)
{
    return (wf_amount_noticed(a) && !(b > 0)) || (wf_amount_noticed(b) && !(a > 0));
}

bool wf_kinds_alike(const struct wf_kinds *k, const double *a, const double *b)
{
    for (size_t i = 0; i < k->count; i++)
        if (wf_amounts_differ(a[i], b[i]))
            return false;
    return true;
}
