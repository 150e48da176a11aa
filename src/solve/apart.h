/*
 * apart.h: what sets a recipe apart from those shown before it, for people.
 */
#ifndef WF_APART_H
#define WF_APART_H

#include "solve/kinds.h"
#include "wortfit/choices.h"

struct wf_shown {
    struct wf_answer answer;
    double *amount; /* one a kind */
};

/* The changes that tell the last of the recipes shown from the first, and from any other that these
 * alone do not tell it from: what comes, then what goes. Names and list are in the arena. False:
 * out of memory. */
bool wf_changes_make(const struct wf_kinds *k, const struct wf_problem *p,
                     const struct wf_shown *shown, size_t count, struct wf_arena *arena,
                     struct wf_choice *out);

#endif
