#include "solve/hop_notes.h"

#include <string.h>

const struct wf_hop_note *wf_hop_notes_find(const struct wf_hop_notes *n, double low, double high,
                                            const struct wf_clock *clock)
{
    const struct wf_hop_note *note = n->last;
    while (note != NULL && !(note->low <= low && low <= note->low && note->high <= high &&
                             high <= note->high)) /* the very same */
        note = note->earlier;
    if (note == NULL)
        return NULL;
    bool proved =
        note->answer.outcome == WF_OUTCOME_OPTIMAL || note->answer.outcome == WF_OUTCOME_INFEASIBLE;
    return proved || wf_clock_left(clock) <= 0 ? note : NULL;
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
    if (note->answer.x != NULL) {
        new->answer.x = copy(n->arena, note->answer.x, note->columns);
        new->grams = copy(n->arena, note->grams, n->places);
        if (new->answer.x == NULL || new->grams == NULL)
            return wf_error_add(e, WF_MEMORY, "out of memory");
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
    *n = (struct wf_hop_notes){0};
}
