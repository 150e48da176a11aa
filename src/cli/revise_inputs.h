/*
 * revise_inputs.h: what the commands that revise a recipe share: adjust, substitute.
 */
#ifndef WF_REVISE_INPUTS_H
#define WF_REVISE_INPUTS_H

#include "cli/recipe_inputs.h"
#include "cli/terminal.h"
#include "wortfit/revise.h"

/* The first member of the options of each of these commands, so that its rows serve them all. */
struct wf_revise_options {
    struct wf_recipe_options recipe;
    double time; /* min */
};

#define WF_REVISE_TIME_OPTION WF_ROW_TIME(.offset = offsetof(struct wf_revise_options, time))

struct wf_revise_inputs {
    struct wf_recipe_inputs in;
    struct wf_recipe *recipe;
    struct wf_store *shop, *lots; /* without a store: the sample shop, and both together */
    struct wf_store *store;       /* where to take from: the store that was given, or `lots` */
    struct wf_brewhouse brewhouse;
};

/* Reads all. To be freed by wf_revise_inputs_free also after a failure. */
enum wf_status wf_revise_inputs_read(struct wf_revise_inputs *r, const char *path,
                                     const struct wf_revise_options *o,
                                     struct wf_error *e) WF_MUST_USE;
void wf_revise_inputs_free(struct wf_revise_inputs *r);

struct wf_solve_options wf_revise_search(const struct wf_revise_options *o,
                                         struct wf_terminal_line *line);

/* How the recipes that were found are told beside the one they were made from. */
struct wf_revision_report wf_revise_report(const struct wf_revise_inputs *r, double loose);

/* The end of a search: of WF_NO_RECIPE why, what would do, and the nearest are reported, as solve
 * tells them. Returns the status that the command ends with. */
enum wf_status wf_revise_conclude(const struct wf_revise_inputs *r, enum wf_status status,
                                  const struct wf_revised *found,
                                  const struct wf_solve_options *search,
                                  const struct wf_revise_options *o, struct wf_text *out,
                                  struct wf_error *e) WF_MUST_USE;

#endif
