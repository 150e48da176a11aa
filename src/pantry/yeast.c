/* yeast.c: the table of yeasts. */
#include "pantry/ingredient.h"
#include "pantry/words.h"

#include "base/try.h"

#include <math.h>

static const char *const flocculation_words[] = {"low", "medium", "high", "very-high", NULL};

struct yeast_row {
    struct wf_yeast yeast;
    struct wf_range attenuation, celsius;
    int family, flocculation; /* -1: not given */
    const char *note;
};

static const struct wf_json_field yeast_fields[] = {
    WF_INGREDIENT_FIELDS(struct yeast_row, yeast),
    {.key = "family",
     .read = wf_json_word,
     .offset = WF_JSON_AT(struct yeast_row, family, int),
     .words = wf_family_words},
    {WF_WANTED("attenuation", struct yeast_row, attenuation, SHARE, 0, 1, -1)},
    {WF_WANTED("temperature", struct yeast_row, celsius, TEMPERATURE, -5, 45, -1)},
    {.key = "flocculation",
     .read = wf_json_word,
     .offset = WF_JSON_AT(struct yeast_row, flocculation, int),
     .words = flocculation_words},
    {WF_FIGURE("alcohol", struct yeast_row, yeast.alcohol_most, SHARE, 0, 0.30)},
    {WF_FIGURE("ester", struct yeast_row, yeast.ester, NUMBER, 0, WF_MOST_SCORE)},
    {WF_FIGURE("phenol", struct yeast_row, yeast.phenol, NUMBER, 0, WF_MOST_SCORE)},
    {.key = "descriptors",
     .read = wf_json_text,
     .offset = WF_JSON_AT(struct yeast_row, yeast.descriptors, const char *)},
    {.key = "eats_dextrins",
     .read = wf_json_bool,
     .offset = WF_JSON_AT(struct yeast_row, yeast.eats_dextrins, bool)},
    {.key = "note",
     .read = wf_json_text,
     .offset = WF_JSON_AT(struct yeast_row, note, const char *)},
    {WF_FIGURE("have", struct yeast_row, yeast.have, NUMBER, 0, 1e4)},
    {WF_FIGURE("price", struct yeast_row, yeast.price, MONEY, 0, WF_MOST_PRICE)},
};

static const struct wf_yeast own_yeast = {
    .attenuation_low = (double)NAN,
    .attenuation_high = (double)NAN,
    .celsius_low = (double)NAN,
    .celsius_high = (double)NAN,
    .alcohol_most = (double)NAN,
};

static void yeast_before(struct wf_json *j, const struct cJSON *node, void *at)
{
    struct yeast_row *row = at;
    struct wf_yeast *y = &row->yeast;
    struct wf_identity who = wf_ingredient_identity(j, node, WF_KIND_YEAST);
    const struct wf_yeast *entry = who.entry ? who.entry : &own_yeast;
    *y = *entry;
    y->of = wf_ingredient_keep(j, entry->id);
    y->name = wf_ingredient_name(j, &who, entry->name);
    y->descriptors = wf_ingredient_keep(j, entry->descriptors);
    y->source = wf_ingredient_keep(j, entry->source);
    y->have = (double)INFINITY;
    y->price = (double)NAN;
    y->packed = y->opened = WF_NO_DATE;
    row->attenuation =
        (struct wf_range){entry->attenuation_low, entry->attenuation_high, (double)NAN};
    row->celsius = (struct wf_range){entry->celsius_low, entry->celsius_high, (double)NAN};
    row->family = row->flocculation = -1;
}

/* A span of a yeast has both ends; one figure is a span of no width. */
static void set_span(struct wf_json *j, const struct cJSON *node, const char *key,
                     struct wf_range span, double *low, double *high)
{
    *low = span.low;
    *high = span.high;
    if (isinf(span.low) || isinf(span.high))
        wf_json_refuse_read(j, wf_json_member(node, key), "needs both ends");
}

static void yeast_after(struct wf_json *j, const struct cJSON *node, void *at)
{
    static const char *const needs[] = {"family", "attenuation"};
    struct yeast_row *row = at;
    struct wf_yeast *y = &row->yeast;
    wf_ingredient_check(j, node, WF_KIND_YEAST, needs, WF_COUNT_OF(needs), "");
    wf_ingredient_check_dates(j, node, y->packed, y->opened);
    set_span(j, node, "attenuation", row->attenuation, &y->attenuation_low, &y->attenuation_high);
    set_span(j, node, "temperature", row->celsius, &y->celsius_low, &y->celsius_high);
    if (row->family >= 0)
        y->family = wf_family_words[row->family];
    if (row->flocculation >= 0)
        y->flocculation = flocculation_words[row->flocculation];
    y->of = wf_ingredient_of(j, y->id, y->of);
    if (!y->name)
        y->name = y->id;
}

const struct wf_json_table wf_yeast_table = {
    .fields = yeast_fields,
    .field_count = WF_COUNT_OF(yeast_fields),
    .size = sizeof(struct yeast_row),
    .before = yeast_before,
    .after = yeast_after,
};
