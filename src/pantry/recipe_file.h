/* recipe_file.h: a recipe file as its table (recipe_table.c) leaves it. */
#ifndef WF_RECIPE_FILE_H
#define WF_RECIPE_FILE_H

#include "pantry/recipe_lines.h"
#include "pantry/tables.h"

struct wf_recipe_file {
    struct wf_recipe r;
    double batch_l, kettle_batch_l; /* NaN: not given */
    bool efficiency_given;
    int status, law, family;
    struct wf_json_list malts, hops, wishes, proof_list, leans, conflicts, remedies, changes;
    struct wf_proof proof;
    double computed;                /* figures that are reckoned anew go here */
    const char *said;               /* and texts that say what figures do */
    const char *const *reasons;     /* checked, not kept */
    bool complete;                  /* likewise */
    struct wf_recipe_file *closest; /* or NULL */
};

/* The recipe that a file as read holds, or its closest one, predicted; all of it lives in the
 * arena, which the recipe does not own. */
enum wf_status wf_recipe_of_file(struct wf_recipe_file *file, const char *name,
                                 const struct wf_store *s, const struct wf_brewhouse *b,
                                 struct wf_arena *arena, struct wf_recipe **out,
                                 struct wf_error *e) WF_MUST_USE;

struct wf_recipe_wish_row {
    struct wf_wish_result wish;
    int kind;
};

/* wf_recipe_table reads into a struct wf_recipe_file; its user is a struct wf_recipe_reading. */
extern const struct wf_json_table wf_recipe_wish_table, wf_recipe_proof_table;
/* Of parts that are checked and not kept (recipe_computed.c). */
extern const struct wf_json_table wf_recipe_ranges_table, wf_recipe_lean_table,
    wf_recipe_conflict_table, wf_recipe_remedy_table, wf_recipe_change_table;

#endif
