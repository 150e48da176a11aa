/*
 * recipe_lines.h: the lines of a recipe file that name an ingredient: malts, hops (recipe_line.c),
 * and which one each means (recipe_find.c).
 *
 * A line starts with the figures of the store's lot of its id, or else of the catalogue's entry, or
 * else of the one that goes by that name; what the file gives takes their place.
 */
#ifndef WF_RECIPE_LINES_H
#define WF_RECIPE_LINES_H

#include "pantry/catalogue.h"
#include "pantry/json_read.h"
#include "wortfit/pantry.h"

/* The `user` of the reading of a recipe. */
struct wf_recipe_reading {
    const struct wf_store *store; /* may be NULL */
    const struct wf_catalogue *catalogue;
    const struct wf_brewhouse *brewhouse; /* NULL: the file's own, or the usual one */
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

/* The lot or entry that a line means, a struct wf_malt, wf_hop or wf_yeast: the store's by "id",
 * else the catalogue's by "is" or "id", else by its full name, case ignored: the store's, then the
 * catalogue's. Without "id" the "name" stands for it. NULL for none. */
const void *wf_recipe_find(struct wf_json *j, const struct cJSON *node, enum wf_kind kind);

/* The id of a line: its own, or that of what it names. NULL after refusing a line that says
 * nobody's name, or that of several lots. */
const char *wf_recipe_line_id(struct wf_json *j, const struct cJSON *node, enum wf_kind kind);

/* Refuses a line of an unknown ingredient that lacks a figure (a key of `needs`) that only its lot
 * could give. */
void wf_recipe_check_known(struct wf_json *j, const struct cJSON *node, enum wf_kind kind,
                           const char *const *needs, size_t need_count);

/* What `weight` of a lot costs when `total` of it is bought, whole packs where it comes in packs.
 */
double wf_recipe_cost(double price_per_kg, double pack_kg, double weight_kg, double total_kg);

#endif
