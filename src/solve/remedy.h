/*
 * remedy.h: the least change that gives a recipe.
 */
#ifndef WF_REMEDY_H
#define WF_REMEDY_H

#include "solve/inquiry.h"

/* Changes of wishes, or things to get, that are not of a figure count so many notches. */
#define WF_NOTCHES_NO_FIGURE 5.0

/* Where an end or an amount may go to: from + k steps, k whole, on the grid of the step. */
struct wf_stair {
    double from, step; /* a step below 0 leads down */
    size_t most;       /* k */
    /* Of an end that is told: just what its figure, written in these units, is read as. */
    bool told;
    enum wf_dimension dimension;
    enum wf_units units;
};
double wf_stair_at(const struct wf_stair *s, size_t k); /* k = 0: from, on the grid or not */

/*
 * The least k with which gives[which].to = wf_stair_at(stair, k) is enough, all others of the gives
 * as they are. k = 0 is known not to be. *found: one is, and is set. *least: k - 1 is proved not to
 * be.
 */
enum wf_status wf_remedy_least(struct wf_inquiry *q, struct wf_give *gives, size_t count,
                               size_t which, const struct wf_stair *stair, bool *found,
                               bool *least) WF_MUST_USE;

/* Remedies as they are gathered. */
struct wf_remedies {
    struct wf_remedy *items; /* in the inquiry's arena */
    size_t count, room;
};
enum wf_status wf_remedies_add(struct wf_inquiry *q, struct wf_remedies *list,
                               const struct wf_remedy *given) WF_MUST_USE;

/* The least changes of one wish that do alone; nothing is added where there is none. */
enum wf_status wf_remedy_of_wish(struct wf_inquiry *q, size_t demand,
                                 struct wf_remedies *out) WF_MUST_USE;

/* Takes out of the gives, which do together, those that the others do without. */
enum wf_status wf_remedy_take_back(struct wf_inquiry *q, struct wf_give *gives,
                                   size_t *count) WF_MUST_USE;

/* Changes of several of these wishes that do together, as few as need be, each then the least;
 * all of them set aside together do. */
enum wf_status wf_remedy_of_several(struct wf_inquiry *q, const bool *aside,
                                    struct wf_remedies *out) WF_MUST_USE;

/* What to get of these parts of the store, each alone, and where nothing alone does, together. */
enum wf_status wf_remedy_of_store(struct wf_inquiry *q, const bool *parts,
                                  struct wf_remedies *out) WF_MUST_USE;

/* Several things to get that do together: those of the recipe for which least must be paid. */
enum wf_status wf_remedy_of_basket(struct wf_inquiry *q, struct wf_remedies *out) WF_MUST_USE;

#endif
