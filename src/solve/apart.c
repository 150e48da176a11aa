#include "solve/apart.h"

#include "base/alloc.h"

static void mark(const struct wf_kinds *k, const double *a, const double *b, bool *marked)
{
    for (size_t i = 0; i < k->count; i++)
        marked[i] |= wf_amounts_differ(a[i], b[i]);
}

/* Whether two recipes differ from a third by the same kinds. */
static bool same_from(const struct wf_kinds *k, const double *a, const double *b,
                      const double *third)
{
    for (size_t i = 0; i < k->count; i++)
        if (wf_amounts_differ(a[i], third[i]) != wf_amounts_differ(b[i], third[i]))
            return false;
    return true;
}

/* The kinds by which the last differs from the first, and from any other that would read alike. */
static void mark_all(const struct wf_kinds *k, const struct wf_shown *shown, size_t count,
                     bool *marked)
{
    const double *last = shown[count - 1].amount, *first = shown[0].amount;
    mark(k, last, first, marked);
    for (size_t i = 1; i + 1 < count; i++)
        if (same_from(k, last, shown[i].amount, first))
            mark(k, last, shown[i].amount, marked);
}

static double weight_of(const struct wf_problem *p, const struct wf_answer *a)
{
    double kg = 0;
    for (size_t i = 0; i < p->malt_count; i++)
        kg += a->kg[i];
    return kg;
}

/* What the answer has of a kind of malt; the name is that of its heaviest lot. */
static struct wf_change malt_of(const struct wf_kinds *k, const struct wf_problem *p,
                                const struct wf_answer *a, size_t kind)
{
    struct wf_change c = {.name = NULL};
    double most = 0, total = weight_of(p, a);
    for (size_t i = 0; i < p->malt_count; i++) {
        if (k->of_malt[i] != kind || !(a->kg[i] > 0))
            continue;
        c.share += a->kg[i] / total;
        if (a->kg[i] > most) {
            most = a->kg[i];
            c.name = p->malts[i].lot->name;
        }
    }
    return c;
}

static struct wf_change hop_of(const struct wf_kinds *k, const struct wf_problem *p,
                               const struct wf_answer *a, size_t kind)
{
    struct wf_change c = {.hop = true};
    double most = 0;
    for (size_t i = 0; i < p->place_count; i++) {
        if (k->of_place[i] != kind)
            continue;
        c.grams += a->grams[i];
        if (a->grams[i] > most) {
            most = a->grams[i];
            c.name = p->hops[p->places[i].hop].lot->name;
        }
    }
    return c;
}

static struct wf_change part_of(const struct wf_kinds *k, const struct wf_problem *p,
                                const struct wf_answer *a, size_t kind)
{
    return kind < k->malts ? malt_of(k, p, a, kind) : hop_of(k, p, a, kind);
}

bool wf_changes_make(const struct wf_kinds *k, const struct wf_problem *p,
                     const struct wf_shown *shown, size_t count, struct wf_arena *arena,
                     struct wf_choice *out)
{
    const struct wf_shown *last = &shown[count - 1];
    bool *marked = wf_arena_alloc(arena, k->count, sizeof *marked);
    struct wf_change *list = wf_arena_alloc(arena, k->count, sizeof *list);
    if (marked == NULL || list == NULL)
        return false;
    mark_all(k, shown, count, marked);
    for (int comes = 1; comes >= 0; comes--)
        for (size_t i = 0; i < k->count; i++) {
            size_t with = count - 1; /* the recipe that has it */
            if (!marked[i] || (last->amount[i] > 0) != (comes == 1))
                continue;
            for (size_t s = 0; comes == 0 && with == count - 1; s++)
                with = shown[s].amount[i] > 0 ? s : with;
            struct wf_change c = part_of(k, p, &shown[with].answer, i);
            c.comes = comes == 1;
            c.name = wf_arena_string(arena, c.name);
            if (c.name == NULL)
                return false;
            list[out->change_count++] = c;
        }
    out->changes = list;
    return true;
}
