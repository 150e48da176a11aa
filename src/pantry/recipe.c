/*
 * recipe.c: the file that every command exchanges.
 *
 *     "recipe"       name (required)
 *     "status"       "optimal", "good", "none", "unproved"
 *     "batch_l"      L of wort at the end of the boil, cooled
 *     "kettle"       "batch_l" (the same), "efficiency" (fraction), "boil_min",
 *                    "evaporation_l_h", "utilisation" ("tinseth", "rager"); what is left out is
 *                    the brewhouse's
 *     "stand"        "minutes", "temperature_c": as scheduled; left out where there is none
 *     "malts"        "id" or "name", "kg" or "weight" (required); "is", "class", "share", "yield",
 *                    "lovibond", "lintner", "fermentability", "sugar", "mashed", "usual_most",
 *                    "character" (scores by word), "cost"
 *     "hops"         "id" or "name", "g" or "weight", "use" with "minutes", "temperature_c",
 *                    "days", or else "at" (required); "is", "alpha" (fraction, after ageing),
 *                    "form" ("pellet", "whole"), "ibu", "character", "cost"
 *     "yeast"        "id" or "name" (required), "is", "family", "attenuation" (fraction), "cost"
 *     "predicted"    "og", "fg", "plato", "abv", "srm", "ebc", "ibu", "ratio", "boil_gravity",
 *                    "lintner", "attenuation"
 *     "character"    index by word
 *     "cost", "currency", "price_note", "unpriced", "ingredients", "seconds"
 *     "wishes"       a list of "wish", "kind" (a dimension: "gravity", "share"), "low", "high",
 *                    "aim", "got", "met", "missed_by"
 *     "proof"        "goal", "value", "bound", "gap" of the first goal; "proofs": of each, in order
 *     "reasons", "conflicts", "remedies", "complete", "closest"
 *                    status "none": texts, the same for programs, and the nearest recipe
 *
 * Figures are plain numbers in the unit that the key names, or a fraction, SG, Lovibond, Lintner; a
 * text with a unit is right too. What was not computed is left out. Predictions, shares, bitterness
 * and indices in the file are checked for form only: they are reckoned anew.
 */
#include "pantry/ingredient.h" /* wf_ingredient_pack */
#include "pantry/recipe_file.h"
#include "pantry/source_file.h"

#include "base/alloc.h"
#include "base/try.h"

#include <math.h>
#include <string.h>

/* ---- Costs that the file does not give, by the prices of the store's lots -------------------- */

static void set_malt_costs(const struct wf_json_list *list)
{
    struct wf_recipe_malt_row *rows = list->items;
    for (size_t i = 0; i < list->count; i++) {
        struct wf_recipe_malt *m = &rows[i].malt;
        double total = 0;
        for (size_t k = 0; k < list->count; k++)
            total += strcmp(rows[k].malt.id, m->id) == 0 ? rows[k].malt.kg : 0;
        if (isnan(m->cost))
            m->cost = wf_recipe_cost(rows[i].price_per_kg, rows[i].pack_kg, m->kg, total);
    }
}

static void set_hop_costs(const struct wf_json_list *list)
{
    struct wf_recipe_hop_row *rows = list->items;
    for (size_t i = 0; i < list->count; i++) {
        struct wf_recipe_hop *h = &rows[i].hop;
        double total = 0;
        for (size_t k = 0; k < list->count; k++)
            total += strcmp(rows[k].hop.id, h->id) == 0 ? rows[k].hop.grams : 0;
        if (isnan(h->cost))
            h->cost = wf_recipe_cost(rows[i].price_per_kg, rows[i].pack_kg, h->grams / 1000,
                                     total / 1000);
    }
}

/* ---- From the file to the recipe ------------------------------------------------------------- */

/* Earlier additions first: first wort, then the boil from its start, the stand, dry hops. */
static bool goes_in_before(const struct wf_addition *a, const struct wf_addition *b)
{
    if (a->use != b->use)
        return a->use < b->use;
    return a->use == WF_HOP_BOIL && a->minutes > b->minutes;
}

/* Insertion sort: short lists, and additions at one time keep their order. */
static void sort_hops(struct wf_recipe *r)
{
    for (size_t i = 1; i < r->hop_count; i++) {
        struct wf_recipe_hop hop = r->hops[i];
        size_t k = i;
        for (; k > 0 && goes_in_before(&hop.addition, &r->hops[k - 1].addition); k--)
            r->hops[k] = r->hops[k - 1];
        r->hops[k] = hop;
    }
}

static bool pack_lines(struct wf_recipe *r, const struct wf_recipe_file *file, struct wf_arena *a)
{
    r->malts = wf_ingredient_pack(a, &file->malts, &wf_recipe_malt_table, sizeof *r->malts);
    r->hops = wf_ingredient_pack(a, &file->hops, &wf_recipe_hop_table, sizeof *r->hops);
    r->wishes = wf_ingredient_pack(a, &file->wishes, &wf_recipe_wish_table, sizeof *r->wishes);
    r->malt_count = file->malts.count;
    r->hop_count = file->hops.count;
    r->wish_count = file->wishes.count;
    return r->malts && r->hops && r->wishes;
}

/* "proofs" tells of all goals; a file with one goal has only "proof". */
static void set_proofs(struct wf_recipe *r, struct wf_recipe_file *file)
{
    r->proofs = file->proof_list.items;
    r->proof_count = file->proof_list.count;
    if (r->proof_count > 0 || !file->proof.goal)
        return;
    r->proofs = &file->proof;
    r->proof_count = 1;
}

static bool set_prices(struct wf_recipe *r, const struct wf_store *s, struct wf_arena *a)
{
    if (!r->currency)
        r->currency = wf_arena_string(a, s && s->currency ? s->currency : "");
    if (!r->price_note && s && s->note)
        r->price_note = wf_arena_string(a, s->note);
    return r->currency && (r->price_note || !s || !s->note);
}

static bool finish(struct wf_recipe_file *file, const struct wf_store *s, struct wf_arena *a)
{
    struct wf_recipe *r = &file->r;
    set_malt_costs(&file->malts);
    set_hop_costs(&file->hops);
    if (!pack_lines(r, file, a) || !set_prices(r, s, a))
        return false;
    sort_hops(r);
    set_proofs(r, file);
    r->status = (enum wf_recipe_status)file->status;
    return true;
}

/* The recipe of a file that says that there is none is its closest one. */
static struct wf_recipe_file *recipe_of(struct wf_recipe_file *file)
{
    struct wf_recipe_file *inner = file;
    while (inner->malts.count == 0 && inner->closest)
        inner = inner->closest;
    inner->status = inner == file ? file->status : WF_RECIPE_NONE;
    return inner;
}

/* A recipe that was made for an efficiency so near to the brewhouse's keeps it: a solve takes that
 * of the gravity aimed at, and what it gives should be found again. No brewer can measure less. */
#define SAME_EFFICIENCY 0.005

/*
 * Predicts it; where efficiency falls with strength, with the efficiency that goes with the gravity
 * that it gives. A stronger wort has a lower one, so there is one such pair, and by halving the
 * step it is found.
 */
static enum wf_status predict(struct wf_recipe_file *file, const struct wf_brewhouse *b,
                              struct wf_error *e)
{
    enum { STEPS = 60 };
    struct wf_recipe *r = &file->r;
    double near = file->efficiency_given ? SAME_EFFICIENCY : 1e-12;
    WF_TRY(wf_recipe_predict(r, e));
    for (int i = 0; b && b->efficiency_fall > 0 && i < STEPS; i++) {
        double wanted = wf_brewhouse_efficiency(b, r->predicted.og);
        if (fabs(wanted - r->kettle.efficiency) < near)
            break;
        near = 1e-12;
        r->kettle.efficiency = (r->kettle.efficiency + wanted) / 2;
        WF_TRY(wf_recipe_predict(r, e));
    }
    return WF_OK;
}

enum wf_status wf_recipe_of_file(struct wf_recipe_file *file, const char *name,
                                 const struct wf_store *s, const struct wf_brewhouse *b,
                                 struct wf_arena *arena, struct wf_recipe **out, struct wf_error *e)
{
    const struct wf_json_source source = {.name = name};
    file = recipe_of(file);
    if (!finish(file, s, arena))
        return wf_json_out_of_memory(&source, e);
    WF_TRY(predict(file, b, e));
    *out = &file->r;
    return WF_OK;
}

enum wf_status wf_recipe_parse_on(const char *name, const char *text, size_t length,
                                  const struct wf_store *s, const struct wf_catalogue *c,
                                  const struct wf_brewhouse *b, struct wf_recipe **out,
                                  struct wf_error *e)
{
    const struct wf_json_source source = {name, text, length};
    struct wf_recipe_reading reading = {.store = s, .catalogue = c, .brewhouse = b};
    enum wf_status status = WF_OK;
    *out = NULL;
    struct wf_arena *arena = wf_arena_new();
    struct wf_recipe_file *file = arena ? wf_arena_alloc(arena, 1, sizeof *file) : NULL;
    if (!file) {
        status = wf_json_out_of_memory(&source, e);
        goto done;
    }
    WF_TRY_GOTO(wf_json_read(&source, &wf_recipe_table, &reading, arena, file, e));
    WF_TRY_GOTO(wf_recipe_of_file(file, name, s, b, arena, out, e));
    (*out)->arena = arena;
    arena = NULL; /* handed over */
done:
    wf_arena_free(arena);
    return status;
}

enum wf_status wf_recipe_read_on(const char *path, const struct wf_store *s,
                                 const struct wf_catalogue *c, const struct wf_brewhouse *b,
                                 struct wf_recipe **out, struct wf_error *e)
{
    struct wf_source_file file;
    *out = NULL;
    WF_TRY(wf_source_file_open(path, &file, e));
    enum wf_status status = wf_recipe_parse_on(file.name, file.text, file.length, s, c, b, out, e);
    wf_source_file_close(&file);
    return status;
}

enum wf_status wf_recipe_parse(const char *name, const char *text, size_t length,
                               const struct wf_store *s, const struct wf_catalogue *c,
                               struct wf_recipe **out, struct wf_error *e)
{
    return wf_recipe_parse_on(name, text, length, s, c, NULL, out, e);
}

enum wf_status wf_recipe_read(const char *path, const struct wf_store *s,
                              const struct wf_catalogue *c, struct wf_recipe **out,
                              struct wf_error *e)
{
    return wf_recipe_read_on(path, s, c, NULL, out, e);
}

void wf_recipe_free(struct wf_recipe *r)
{
    if (r)
        wf_arena_free(r->arena);
}
