/*
 * recipe_computed.c: the parts of a recipe file that are checked for their form only: ranges, what
 * the recipe leans on, and how it was revised. They are reckoned anew where they are wanted.
 */
#include "pantry/fields.h"
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

struct lean_row {
    const char *text;
    double number;
};
#define TEXT_AT WF_JSON_AT(struct lean_row, text, const char *)

static const struct wf_json_field lean_fields[] = {
    {.key = "of", .read = wf_json_text, .offset = TEXT_AT, .required = true},
    {.key = "what", .read = wf_json_text, .offset = TEXT_AT, .required = true},
    {.key = "id", .read = wf_json_id, .offset = TEXT_AT},
    {.key = "kind", .read = wf_json_text, .offset = TEXT_AT},
    {.key = "end", .read = wf_json_text, .offset = TEXT_AT},
    {WF_FIGURE("from", struct lean_row, number, NUMBER, -HUGE_VAL, HUGE_VAL)},
    {WF_FIGURE("to", struct lean_row, number, NUMBER, -HUGE_VAL, HUGE_VAL)},
    {WF_FIGURE("price", struct lean_row, number, NUMBER, -HUGE_VAL, HUGE_VAL)},
    {WF_FIGURE("saves", struct lean_row, number, NUMBER, -HUGE_VAL, HUGE_VAL)},
    {WF_FIGURE("saves_least", struct lean_row, number, NUMBER, -HUGE_VAL, HUGE_VAL)},
    {WF_FIGURE("saves_most", struct lean_row, number, NUMBER, -HUGE_VAL, HUGE_VAL)},
};
const struct wf_json_table wf_recipe_lean_table = {.fields = lean_fields,
                                                   .field_count = WF_COUNT_OF(lean_fields),
                                                   .size = sizeof(struct lean_row)};

/* ---- Changes --------------------------------------------------------------------------------- */

static const struct wf_json_field change_fields[] = {
    {.key = "of", .read = wf_json_text, .offset = TEXT_AT, .required = true},
    {.key = "id", .read = wf_json_id, .offset = TEXT_AT},
    {.key = "name", .read = wf_json_text, .offset = TEXT_AT},
    {.key = "use", .read = wf_json_text, .offset = TEXT_AT},
    {WF_FIGURE("minutes", struct lean_row, number, NUMBER, 0, HUGE_VAL)},
    {WF_FIGURE("was", struct lean_row, number, NUMBER, 0, HUGE_VAL)},
    {WF_FIGURE("is", struct lean_row, number, NUMBER, 0, HUGE_VAL)},
    {.key = "from", .read = wf_json_id, .offset = TEXT_AT},
    {.key = "to", .read = wf_json_id, .offset = TEXT_AT},
};
const struct wf_json_table wf_recipe_change_table = {.fields = change_fields,
                                                     .field_count = WF_COUNT_OF(change_fields),
                                                     .size = sizeof(struct lean_row)};
