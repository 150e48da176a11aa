/*
 * recipe_inputs.h: what the commands that start from a recipe share: check, compare, scale.
 */
#ifndef WF_RECIPE_INPUTS_H
#define WF_RECIPE_INPUTS_H

#include "cli/command.h"
#include "cli/option_rows.h"
#include "wortfit/wortfit.h"

/* First in the options of each of these commands. */
struct wf_recipe_options {
    const char *store, *brewhouse;
    struct wf_choices units;
    long on;
    bool json;
};

/* Their rows; `type` is the command's options, whose first member is called `recipe`, and the texts
 * say what the store and the brewhouse are to the command. */
#define WF_RECIPE_OPTIONS(type, brewhouse_text)                                                    \
    WF_RECIPE_OPTIONS_OF(type, "lots: their figures, prices (the catalogue, unpriced)",            \
                         brewhouse_text)
#define WF_RECIPE_OPTIONS_OF(type, store_text, brewhouse_text)                                     \
    {.name = "store",                                                                              \
     .word = "FILE",                                                                               \
     .kind = WF_OPTION_TEXT,                                                                       \
     .offset = offsetof(type, recipe.store),                                                       \
     .text = store_text},                                                                          \
        {.name = "brewhouse",                                                                      \
         .word = "FILE",                                                                           \
         .kind = WF_OPTION_TEXT,                                                                   \
         .offset = offsetof(type, recipe.brewhouse),                                               \
         .text = brewhouse_text},                                                                  \
        WF_ROW_ON(.offset = offsetof(type, recipe.on)),                                            \
        WF_ROW_UNITS(.offset = offsetof(type, recipe.units)),                                      \
        WF_ROW_JSON(.offset = offsetof(type, recipe.json), "for programs")

struct wf_recipe_inputs {
    struct wf_catalogue *catalogue;
    struct wf_store *store;         /* aged to the brewing day; NULL: none was given */
    struct wf_brewhouse *brewhouse; /* NULL: none was given */
};

/* Reads all but the recipes. What was read is freed by wf_recipe_inputs_free, also after a failure.
 */
enum wf_status wf_recipe_inputs_read(struct wf_recipe_inputs *in, const struct wf_recipe_options *o,
                                     struct wf_error *e) WF_MUST_USE;
void wf_recipe_inputs_free(struct wf_recipe_inputs *in);

/* A recipe, brewed on `b` (NULL: on its own system), priced by the store. */
enum wf_status wf_recipe_inputs_recipe(const struct wf_recipe_inputs *in, const char *path,
                                       const struct wf_brewhouse *b, struct wf_recipe **out,
                                       struct wf_error *e) WF_MUST_USE;

struct wf_report_style wf_recipe_style(const struct wf_recipe_options *o);

/* Adds a finished report to the output and releases it. NULL: nothing. */
void wf_add_report(struct wf_text *out, char *report);

#endif
