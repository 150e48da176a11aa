/*
 * check.h: a recipe held against a target, and two recipes side by side. Both take recipes that are
 * predicted, as every reader and search hands them over.
 */
#ifndef WORTFIT_CHECK_H
#define WORTFIT_CHECK_H

#include "wortfit/pantry.h"

/* ---- Check ----------------------------------------------------------------------------------- */

/*
 * Wanted against got. r->wishes is filled anew with every wish of the target, as a search tells
 * them. What no search does, but a brewer may, follows as a wish that is missed: a malt that the
 * target avoids or that does not belong in it, a hop or more varieties than a slot takes, a yeast
 * that does not suit. Additions at times that the target does not name are judged by their
 * bitterness and character alone. Without a yeast nothing is said of fermentation.
 *
 * The catalogue tells where a hop is from (NULL: no wish for an origin is looked at). A dose of one
 * value is judged to `hop_step_g`, the step of the scale. The status, proofs and wishes that the
 * recipe came with are dropped; `t` NULL: that is all.
 *
 * WF_OK: every wish is met. WF_NO_RECIPE: the error says how many are missed.
 */
enum wf_status wf_recipe_check(struct wf_recipe *r, const struct wf_target *t,
                               const struct wf_catalogue *c, double hop_step_g,
                               struct wf_error *e) WF_MUST_USE;

/* ---- Compare --------------------------------------------------------------------------------- */

/* What one of two recipes, or both, has in it; [0] the first recipe's, [1] the second's; 0: none.
 */
struct wf_compared_malt {
    const char *id, *name;
    double kg[2], share[2];
};

/* A variety at one time; a dry hop's days do not tell it from another. */
struct wf_compared_hop {
    const char *id, *name;
    enum wf_hop_use use;
    double minutes, celsius, days;
    double grams[2], dose[2], ibu[2]; /* dose: g/L */
};

struct wf_comparison {
    struct wf_arena *arena;
    const struct wf_recipe *recipe[2]; /* not its own */
    struct wf_compared_malt *malts;    /* greatest share first */
    struct wf_compared_hop *hops;      /* in the order in which they are added */
    size_t malt_count, hop_count;
};

/* The union of what is in both, by id. The recipes must outlive it. *out is yours to
 * wf_comparison_free. */
enum wf_status wf_compare(const struct wf_recipe *first, const struct wf_recipe *second,
                          struct wf_comparison **out, struct wf_error *e) WF_MUST_USE;
void wf_comparison_free(struct wf_comparison *c); /* NULL allowed */

#endif
