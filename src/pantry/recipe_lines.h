/*
 * recipe_lines.h: the lines of a recipe file that name an ingredient: malts, hops (recipe_line.c).
 *
 * A line starts with the figures of the store's lot of its id, or else of the catalogue's entry;
 * what the file gives takes their place.
 */
#ifndef WF_RECIPE_LINES_H
#define WF_RECIPE_LINES_H

#include "pantry/json_read.h"
#include "wortfit/pantry.h"

/* The `user` of the reading of a recipe. */
struct wf_recipe_reading {
    const struct wf_store *store; /* may be NULL */
    const struct wf_catalogue *catalogue;
};

struct wf_recipe_malt_row {
    struct wf_recipe_malt malt;
    double share; /* in the file; reckoned anew */
    int class;
    double price_per_kg, pack_kg; /* of the lot; NaN: none */
};

struct wf_recipe_hop_row {
    struct wf_recipe_hop hop;
    double ibu; /* in the file; reckoned anew */
    int use, form;
    double price_per_kg, pack_kg;
};

extern const struct wf_json_table wf_recipe_malt_table, wf_recipe_hop_table;

/* The lot or entry that a line means: the store's by `id`, else the catalogue's by `is` or `id`;
 * NULL for none. */
const struct wf_malt *wf_recipe_find_malt(struct wf_json *j, const struct cJSON *node);
const struct wf_hop *wf_recipe_find_hop(struct wf_json *j, const struct cJSON *node);
const struct wf_yeast *wf_recipe_find_yeast(struct wf_json *j, const struct cJSON *node);

/* What `weight` of a lot costs when `total` of it is bought, whole packs where it comes in packs.
 */
double wf_recipe_cost(double price_per_kg, double pack_kg, double weight_kg, double total_kg);

#endif
