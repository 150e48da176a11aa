#include "solve/hop_notes.h"

#include "model/hop_model.h"

#include <math.h>
#include <string.h>

struct wf_hop_notes wf_hop_notes_of(const struct wf_problem *p, const struct wf_search_options *o)
{
    struct wf_hop_notes n = {.problem = p, .reference = p->og.low};
    for (size_t k = 0; k < o->goal_count; k++)
        n.aims = n.aims || o->goals[k] == WF_GOAL_CLOSEST;
    return n;
}

/* The bitterness wanted over a window, at the notes' reference gravity; none where the laws end. */
static struct wf_range wanted_over(const struct wf_hop_notes *n, double low, double high)
{
    struct wf_range wanted = wf_range_any();
    double aim[2];
    if (wf_range_is_any(wf_problem_bitterness(n->problem, low)))
        return wanted;
    if (wf_hop_wanted(n->problem, n->reference, low, high, &wanted, aim) != WF_OK)
        return (struct wf_range){INFINITY, -INFINITY, NAN};
    return wanted;
}

/* Of the bitterness: hops this near the edge of what is wanted are searched for anew. */
#define EDGE 1e-9

/* Whether the best hops of a window are the best of one within it, where so much is wanted. */
static bool serves(const struct wf_hop_notes *n, const struct wf_hop_note *note,
                   const struct wf_range *wanted)
{
    if (note->answer.outcome == WF_OUTCOME_INFEASIBLE)
        return true;
    double room = EDGE * note->ibu;
    return note->answer.outcome == WF_OUTCOME_OPTIMAL && !n->aims &&
           note->ibu >= wanted->low + room && note->ibu <= wanted->high - room;
}

const struct wf_hop_note *wf_hop_notes_find(const struct wf_hop_notes *n, double low, double high,
                                            const struct wf_clock *clock)
{
    struct wf_range wanted = n->last != NULL ? wanted_over(n, low, high) : wf_range_any();
    for (const struct wf_hop_note *i = n->last; i != NULL; i = i->earlier) {
        bool within = i->low <= low && high <= i->high;
        bool same = within && low <= i->low && i->high <= high;
        bool proved = i->answer.outcome == WF_OUTCOME_OPTIMAL;
        if ((same && (proved || wf_clock_left(clock) <= 0)) || (within && serves(n, i, &wanted)))
            return i;
    }
    return NULL;
}

double wf_hop_notes_serve_until(const struct wf_hop_notes *n, const double *grams, double low,
                                double og)
{
    double ibu, most = og;
    if (wf_hop_given(n->problem, n->reference, grams, &ibu) != WF_OK)
        return low;
    for (int i = 0; i < 40 && most - low > 1e-9; i++) {
        double middle = (low + most) / 2;
        if (wanted_over(n, middle, og).low <= ibu)
            low = middle;
        else
            most = middle;
    }
    return low;
}

static double *copy(struct wf_arena *a, const double *list, size_t count)
{
    double *c = wf_arena_alloc(a, count, sizeof *c);
    if (c != NULL)
        memcpy(c, list, count * sizeof *c);
    return c;
}

enum wf_status wf_hop_notes_add(struct wf_hop_notes *n, const struct wf_hop_note *note,
                                struct wf_error *e)
{
    if (n->arena == NULL)
        n->arena = wf_arena_new();
    struct wf_hop_note *new = n->arena == NULL ? NULL : wf_arena_alloc(n->arena, 1, sizeof *new);
    if (new == NULL)
        return wf_error_add(e, WF_MEMORY, "out of memory");
    *new = *note;
    new->earlier = n->last;
    new->grams = NULL;
    new->ibu = NAN; /* serves nothing */
    if (note->answer.x != NULL) {
        new->answer.x = copy(n->arena, note->answer.x, note->columns);
        new->grams = copy(n->arena, note->grams, n->problem->place_count);
        if (new->answer.x == NULL || new->grams == NULL)
            return wf_error_add(e, WF_MEMORY, "out of memory");
        if (wf_hop_given(n->problem, n->reference, new->grams, &new->ibu) != WF_OK)
            new->ibu = NAN;
    }
    n->last = new;
    return WF_OK;
}

enum wf_status wf_hop_note_answer(const struct wf_hop_note *note, struct wf_part_answer *out,
                                  struct wf_error *e)
{
    *out = note->answer;
    if (out->x == NULL)
        return WF_OK;
    out->x = wf_alloc(note->columns, sizeof *out->x);
    if (out->x == NULL)
        return wf_error_add(e, WF_MEMORY, "out of memory");
    memcpy(out->x, note->answer.x, note->columns * sizeof *out->x);
    return WF_OK;
}

void wf_hop_notes_clear(struct wf_hop_notes *n)
{
    wf_arena_free(n->arena);
    n->arena = NULL;
    n->last = NULL;
}
