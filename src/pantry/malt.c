/* malt.c: the table of malts, flakes, sugars and extracts. */
#include "pantry/ingredient.h"
#include "pantry/words.h"

#include "base/alloc.h"
#include "base/try.h"

#include <math.h>
#include <string.h>

struct malt_row {
    struct wf_malt malt;
    int class;
    double potential; /* kg/kg as is */
    double protein;   /* dry basis; checked, not used */
    const char *const *allergens;
    const char *note;
};

static const struct wf_json_field malt_fields[] = {
    WF_INGREDIENT_FIELDS(struct malt_row, malt),
    {.key = "class",
     .read = wf_json_word,
     .offset = WF_JSON_AT(struct malt_row, class, int),
     .words = wf_class_words},
    {WF_FIGURE("extract", struct malt_row, malt.fine_dry, SHARE, 0, 1)},
    {WF_FIGURE("moisture", struct malt_row, malt.moisture, SHARE, 0, 0.5)},
    {WF_FIGURE("potential", struct malt_row, potential, POTENTIAL, 0, 1)},
    {WF_FIGURE("colour", struct malt_row, malt.grain.lovibond, MALT_COLOUR, 0, WF_MOST_LOVIBOND)},
    {WF_FIGURE("diastatic", struct malt_row, malt.grain.lintner, DIASTATIC, 0, WF_MOST_LINTNER)},
    {WF_FIGURE("fermentability", struct malt_row, malt.grain.fermentability, SHARE, 0,
               WF_MOST_FERMENTED)},
    {WF_FIGURE("usual_most", struct malt_row, malt.usual_most, SHARE, 0.001, 1)},
    {WF_FIGURE("protein", struct malt_row, protein, SHARE, 0, 0.5)},
    {.key = "mash",
     .read = wf_json_bool,
     .offset = WF_JSON_AT(struct malt_row, malt.grain.mashed, bool)},
    {.key = "character",
     .read = wf_json_object,
     .offset = offsetof(struct malt_row, malt.character),
     .table = &wf_malt_scores_table},
    {.key = "allergens",
     .read = wf_json_texts,
     .offset = WF_JSON_AT(struct malt_row, allergens, const char *const *),
     .high = 14},
    {.key = "note",
     .read = wf_json_text,
     .offset = WF_JSON_AT(struct malt_row, note, const char *)},
    {WF_FIGURE("have", struct malt_row, malt.have_kg, MASS, 0, WF_MOST_KG)},
    {WF_FIGURE("price", struct malt_row, malt.price_per_kg, PRICE, 0, WF_MOST_PRICE)},
    {WF_FIGURE("pack", struct malt_row, malt.pack_kg, MASS, WF_LEAST_PACK_KG, WF_MOST_KG)},
    {WF_FIGURE("step", struct malt_row, malt.step_kg, MASS, WF_LEAST_STEP_KG, WF_MOST_KG)},
    {WF_FIGURE("most", struct malt_row, malt.most, SHARE, 0, 1)},
};

static const struct wf_malt own_malt = {
    .fine_dry = (double)NAN,
    .moisture = (double)NAN,
    .grain = {.yield = (double)NAN, .lovibond = (double)NAN, .fermentability = 1, .mashed = true},
    .usual_most = 1,
};

static void malt_before(struct wf_json *j, const struct cJSON *node, void *at)
{
    struct malt_row *row = at;
    struct wf_identity who = wf_ingredient_identity(j, node, WF_KIND_MALT);
    const struct wf_malt *entry = who.entry ? who.entry : &own_malt;
    row->malt = *entry;
    row->malt.of = wf_ingredient_keep(j, entry->id);
    row->malt.name = wf_ingredient_name(j, &who, entry->name);
    row->malt.allergens = wf_ingredient_keep(j, entry->allergens);
    row->malt.source = wf_ingredient_keep(j, entry->source);
    row->class = (int)entry->class;
    row->malt.have_kg = (double)INFINITY;
    row->malt.price_per_kg = row->malt.pack_kg = row->malt.step_kg = row->malt.most = (double)NAN;
    row->malt.packed = row->malt.opened = WF_NO_DATE;
}

/* Yield as is: by a potential, or by an analysis; a figure left out is the entry's. */
static void set_yield(struct wf_json *j, const struct cJSON *node, struct malt_row *row)
{
    struct wf_malt *m = &row->malt;
    bool extract = wf_json_has(node, "extract"), moisture = wf_json_has(node, "moisture");
    if (wf_json_has(node, "potential")) {
        if (extract || moisture)
            wf_json_refuse(
                j, wf_json_member(node, "potential"),
                "stands beside extract or moisture; it is as is: give the one or the other");
        m->fine_dry = m->moisture = (double)NAN;
        m->grain.yield = row->potential;
    } else if (extract || moisture) {
        if (isnan(m->fine_dry) == isnan(m->moisture))
            m->grain.yield = m->fine_dry * (1 - m->moisture);
        else
            wf_json_refuse(j, wf_json_member(node, extract ? "extract" : "moisture"),
                           "needs \"%s\" beside it", extract ? "moisture" : "extract");
    }
}

/* Grain is an allergen unless the lot says what is; sugar is not. */
static void set_allergens(struct wf_json *j, struct malt_row *row)
{
    if (!row->allergens) {
        if (!row->malt.allergens)
            row->malt.allergens = row->malt.grain.sugar ? "" : "gluten";
        return;
    }
    char list[WF_REASON_MAX];
    size_t count = 0;
    while (row->allergens[count])
        count++;
    row->malt.allergens =
        wf_arena_string(wf_json_arena(j), wf_json_join(row->allergens, count, list));
    if (!row->malt.allergens)
        wf_json_no_memory(j);
}

static void malt_after(struct wf_json *j, const struct cJSON *node, void *at)
{
    static const char *const needs[] = {"class", "colour"};
    struct malt_row *row = at;
    bool yield = wf_json_has(node, "extract") || wf_json_has(node, "potential");
    wf_ingredient_check(j, node, WF_KIND_MALT, needs, WF_COUNT_OF(needs),
                        yield ? "" : "extract and moisture (or potential)");
    wf_ingredient_check_dates(j, node, row->malt.packed, row->malt.opened);
    set_yield(j, node, row);
    row->malt.class = (enum wf_malt_class)row->class;
    row->malt.grain.sugar = row->malt.class == WF_CLASS_SUGAR;
    if (!row->malt.of && !wf_json_has(node, "mash"))
        row->malt.grain.mashed = !row->malt.grain.sugar;
    row->malt.of = wf_ingredient_of(j, row->malt.id, row->malt.of);
    set_allergens(j, row);
    if (!row->malt.name)
        row->malt.name = row->malt.id;
}

const struct wf_json_table wf_malt_table = {
    .fields = malt_fields,
    .field_count = WF_COUNT_OF(malt_fields),
    .size = sizeof(struct malt_row),
    .before = malt_before,
    .after = malt_after,
};
