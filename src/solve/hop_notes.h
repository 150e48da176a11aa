/*
 * hop_notes.h: what hops were found to be, window by window.
 *
 * Hops do not depend on the yeast, and the search of a recipe asks for the same windows of gravity
 * again, from yeast to yeast and from split to split: each is searched once. Gravity bears on hops
 * by the bitterness that is wanted alone: so the best of a wider window are the best of any window
 * within it in which they give what is wanted.
 */
#ifndef WF_HOP_NOTES_H
#define WF_HOP_NOTES_H

#include "base/alloc.h"
#include "solve/part.h"

struct wf_hop_note {
    double low, high;             /* SG, as asked */
    struct wf_part_answer answer; /* its point in the notes' arena */
    size_t columns;               /* of the point */
    const double *grams; /* what the point says, one a place of the problem; NULL: no point */
    double ibu;          /* of these, at the notes' reference gravity */
    const struct wf_hop_note *earlier;
};

/* Of one problem, whatever its yeasts, and one set of goals. */
struct wf_hop_notes {
    const struct wf_problem *problem;
    bool aims;        /* a goal asks how near hops come to the bitterness aimed at */
    double reference; /* SG */
    struct wf_arena *arena;
    const struct wf_hop_note *last;
};

/* None yet; the problem must outlive them. */
struct wf_hop_notes wf_hop_notes_of(const struct wf_problem *p, const struct wf_search_options *o);

/* What is known of the window; NULL: nothing, or it is not proved and there is time to. */
const struct wf_hop_note *wf_hop_notes_find(const struct wf_hop_notes *n, double low, double high,
                                            const struct wf_clock *clock);

/* Hops that give what is wanted somewhere from `low` to og: up to where the window may begin later
 * and they still do. */
double wf_hop_notes_serve_until(const struct wf_hop_notes *n, const double *grams, double low,
                                double og);

/* Copies all that the note has, and reckons its bitterness. WF_MEMORY. */
enum wf_status wf_hop_notes_add(struct wf_hop_notes *n, const struct wf_hop_note *note,
                                struct wf_error *e) WF_MUST_USE;

/* *out as a search of its own would give it, its point the caller's. WF_MEMORY. */
enum wf_status wf_hop_note_answer(const struct wf_hop_note *note, struct wf_part_answer *out,
                                  struct wf_error *e) WF_MUST_USE;

void wf_hop_notes_clear(struct wf_hop_notes *n);

#endif
