/*
 * inquiry.h: the one question that reasons are made of: is there a recipe once these demands give
 * way? Each answer is of a whole search, yeasts and forward check included, that ends at the first
 * recipe it finds.
 */
#ifndef WF_INQUIRY_H
#define WF_INQUIRY_H

#include "solve/clock.h"
#include "solve/relax.h"

#include <stdint.h>

enum wf_exists { WF_EXISTS_NO, WF_EXISTS_YES, WF_EXISTS_UNKNOWN };

/* Demands that were left out together, as bits, and what came of it. */
struct wf_asked {
    const uint64_t *left_out;
    enum wf_exists exists;
};

struct wf_inquiry {
    struct wf_relax relax;
    const struct wf_brewhouse *b;
    const struct wf_solve_options *o;
    enum wf_units units;    /* of what is told */
    struct wf_clock clock;  /* of all questions together */
    struct wf_arena *arena; /* of what is handed over */
    struct wf_error *e;
    size_t solves;
    bool complete; /* no question has been left open for want of time */
    /* Questions that need not be asked again: what more is left out than where there was a recipe,
     * or less than where there was none. */
    struct wf_asked *asked; /* in the arena */
    size_t asked_count, asked_room;
};

/* WF_EXISTS_UNKNOWN: there was not the time, or the search could not be sure. */
enum wf_status wf_inquiry_ask(struct wf_inquiry *q, const struct wf_give *gives, size_t count,
                              enum wf_exists *out) WF_MUST_USE;

/* The same of a problem that is given way already, with the recipe: the cheapest, proved as usual,
 * or any one. */
enum wf_status wf_inquiry_search(struct wf_inquiry *q, const struct wf_relaxed *r, bool cheapest,
                                 enum wf_exists *out, struct wf_recipe **recipe) WF_MUST_USE;

/* Starts the clock of all questions. */
void wf_inquiry_start(struct wf_inquiry *q);
bool wf_inquiry_out_of_time(struct wf_inquiry *q); /* and notes it */

#endif
