/*
 * hops_refit.h: wortfit hops RECIPE: the hops of a recipe made right for its bitterness.
 */
#ifndef WF_HOPS_REFIT_H
#define WF_HOPS_REFIT_H

#include "cli/lister.h"
#include "cli/recipe_inputs.h"

/* Of the command, for both of its uses. */
struct wf_hops_options {
    struct wf_list_options list;
    /* for the list */
    const char *origin;
    struct wf_choices word, purpose;
    struct wf_range usual_alpha; /* from alphas */
    /* for a recipe */
    const char *store, *brewhouse, *schedule;
    struct wf_range ratio, bitterness;
    const char *const *alphas;
    struct wf_choices change;
    long on;
};

/* The words of --change. */
enum { WF_HOPS_CHANGE_EARLY, WF_HOPS_CHANGE_ALL };

enum wf_status wf_hops_refit(const struct wf_call *call, struct wf_text *out,
                             struct wf_error *e) WF_MUST_USE;

#endif
