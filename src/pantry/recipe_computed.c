/*
 * recipe_computed.c: the parts of a recipe file that are checked for their form only: ranges, what
 * the recipe leans on, why there is none, how it was revised. They are reckoned anew where they are
 * wanted.
 */
#include "pantry/fields.h"
#include "pantry/limits.h"
#include "pantry/recipe_file.h"

#include "base/try.h"

#include <math.h>

/* ---- Ranges ---------------------------------------------------------------------------------- */

#define COMPUTED(k)                                                                                \
    {                                                                                              \
        WF_FIGURE(k, struct wf_recipe_file, computed, NUMBER, -HUGE_VAL, HUGE_VAL)                 \
    }

static const struct wf_json_field end_fields[] = {COMPUTED("low"), COMPUTED("high")};
static const struct wf_json_table end_table = WF_TABLE(end_fields);

static const struct wf_json_field ranges_fields[] = {
    COMPUTED("probability"),
    {.key = "og", .read = wf_json_object, .table = &end_table},
    {.key = "fg", .read = wf_json_object, .table = &end_table},
    {.key = "plato", .read = wf_json_object, .table = &end_table},
    {.key = "abv", .read = wf_json_object, .table = &end_table},
    {.key = "srm", .read = wf_json_object, .table = &end_table},
    {.key = "ebc", .read = wf_json_object, .table = &end_table},
    {.key = "ibu", .read = wf_json_object, .table = &end_table},
    {.key = "ratio", .read = wf_json_object, .table = &end_table},
    {.key = "attenuation", .read = wf_json_object, .table = &end_table},
    COMPUTED("sure_each"),
    COMPUTED("sure_all"),
};
const struct wf_json_table wf_recipe_ranges_table = WF_TABLE(ranges_fields);

/* ---- Leans ----------------------------------------------------------------------------------- */

struct computed_row {
    const char *text;
    double number;
    bool flag;
    struct wf_json_list list;
};
#define TEXT_AT WF_JSON_AT(struct computed_row, text, const char *)
#define FLAG_AT WF_JSON_AT(struct computed_row, flag, bool)

static const struct wf_json_field lean_fields[] = {
    {.key = "of", .read = wf_json_text, .offset = TEXT_AT, .required = true},
    {.key = "what", .read = wf_json_text, .offset = TEXT_AT, .required = true},
    {.key = "id", .read = wf_json_id, .offset = TEXT_AT},
    {.key = "kind", .read = wf_json_text, .offset = TEXT_AT},
    {.key = "end", .read = wf_json_text, .offset = TEXT_AT},
    {WF_FIGURE("from", struct computed_row, number, NUMBER, -HUGE_VAL, HUGE_VAL)},
    {WF_FIGURE("to", struct computed_row, number, NUMBER, -HUGE_VAL, HUGE_VAL)},
    {WF_FIGURE("price", struct computed_row, number, NUMBER, -HUGE_VAL, HUGE_VAL)},
    {WF_FIGURE("saves", struct computed_row, number, NUMBER, -HUGE_VAL, HUGE_VAL)},
    {WF_FIGURE("saves_least", struct computed_row, number, NUMBER, -HUGE_VAL, HUGE_VAL)},
    {WF_FIGURE("saves_most", struct computed_row, number, NUMBER, -HUGE_VAL, HUGE_VAL)},
};
const struct wf_json_table wf_recipe_lean_table = {.fields = lean_fields,
                                                   .field_count = WF_COUNT_OF(lean_fields),
                                                   .size = sizeof(struct computed_row)};

/* ---- Why there is none ----------------------------------------------------------------------- */

#define LIST_AT WF_JSON_AT(struct computed_row, list, struct wf_json_list)
#define TABLE_OF_ROWS(list)                                                                        \
    {                                                                                              \
        .fields = (list), .field_count = WF_COUNT_OF(list), .size = sizeof(struct computed_row)    \
    }
#define ROW_NUMBER(k)                                                                              \
    {                                                                                              \
        WF_FIGURE(k, struct computed_row, number, NUMBER, -HUGE_VAL, HUGE_VAL)                     \
    }
#define DEMAND_FIELDS                                                                              \
    {.key = "of", .read = wf_json_text, .offset = TEXT_AT, .required = true},                      \
        {.key = "what", .read = wf_json_text, .offset = TEXT_AT, .required = true},                \
        {.key = "end", .read = wf_json_text, .offset = TEXT_AT},                                   \
        {.key = "kind", .read = wf_json_text, .offset = TEXT_AT}, ROW_NUMBER("bound")

static const struct wf_json_field demand_fields[] = {DEMAND_FIELDS};
static const struct wf_json_table demand_table = TABLE_OF_ROWS(demand_fields);

static const struct wf_json_field conflict_fields[] = {
    {.key = "demands",
     .read = wf_json_list,
     .offset = LIST_AT,
     .table = &demand_table,
     .high = WF_MOST_LINES},
    {.key = "irreducible", .read = wf_json_bool, .offset = FLAG_AT},
};
const struct wf_json_table wf_recipe_conflict_table = TABLE_OF_ROWS(conflict_fields);

static const struct wf_json_field shift_fields[] = {
    DEMAND_FIELDS,
    {.key = "id", .read = wf_json_text, .offset = TEXT_AT},
    {.key = "name", .read = wf_json_text, .offset = TEXT_AT},
    {.key = "in_store", .read = wf_json_bool, .offset = FLAG_AT},
    ROW_NUMBER("to"),
    ROW_NUMBER("kg"),
    ROW_NUMBER("more_kg"),
    ROW_NUMBER("packs"),
    ROW_NUMBER("more_packs"),
    ROW_NUMBER("cost"),
    {.key = "currency", .read = wf_json_text, .offset = TEXT_AT},
    {.key = "least", .read = wf_json_bool, .offset = FLAG_AT},
};
static const struct wf_json_table shift_table = TABLE_OF_ROWS(shift_fields);

static const struct wf_json_field remedy_fields[] = {
    {.key = "words", .read = wf_json_text, .offset = TEXT_AT, .required = true},
    {.key = "shifts",
     .read = wf_json_list,
     .offset = LIST_AT,
     .table = &shift_table,
     .high = WF_MOST_LINES},
    ROW_NUMBER("cost"),
    {.key = "currency", .read = wf_json_text, .offset = TEXT_AT},
    {.key = "price_note", .read = wf_json_text, .offset = TEXT_AT},
};
const struct wf_json_table wf_recipe_remedy_table = TABLE_OF_ROWS(remedy_fields);

/* ---- Changes --------------------------------------------------------------------------------- */

static const struct wf_json_field change_fields[] = {
    {.key = "of", .read = wf_json_text, .offset = TEXT_AT, .required = true},
    {.key = "id", .read = wf_json_id, .offset = TEXT_AT},
    {.key = "name", .read = wf_json_text, .offset = TEXT_AT},
    {.key = "use", .read = wf_json_text, .offset = TEXT_AT},
    {WF_FIGURE("minutes", struct computed_row, number, NUMBER, 0, HUGE_VAL)},
    {WF_FIGURE("was", struct computed_row, number, NUMBER, 0, HUGE_VAL)},
    {WF_FIGURE("is", struct computed_row, number, NUMBER, 0, HUGE_VAL)},
    {.key = "from", .read = wf_json_id, .offset = TEXT_AT},
    {.key = "to", .read = wf_json_id, .offset = TEXT_AT},
};
const struct wf_json_table wf_recipe_change_table = {.fields = change_fields,
                                                     .field_count = WF_COUNT_OF(change_fields),
                                                     .size = sizeof(struct computed_row)};
