/* hop.c: the table of hops. */
#include "pantry/ingredient.h"
#include "pantry/words.h"

#include "base/ascii.h"
#include "base/try.h"

#include <math.h>
#include <string.h>

enum purpose { PURPOSE_BITTERING, PURPOSE_AROMA, PURPOSE_DUAL };
static const char *const purpose_words[] = {"bittering", "aroma", "dual", NULL};

static const char *const packing_words[] = {
    [WF_PACKED_OPEN] = "open", [WF_PACKED_SEALED] = "sealed", [WF_PACKED_VACUUM] = "vacuum", NULL};

/* Coldest and warmest store that wf_alpha_after_storage is taken for. */
#define KEPT_LEAST (-30.0)
#define KEPT_MOST  40.0

/* Share of alpha lost in six months at 20 C by a variety that nobody has told of: the median of the
 * varieties in the catalogue. */
#define LOSS_UNKNOWN 0.33

struct hop_row {
    struct wf_hop hop;
    struct wf_range alpha_range;
    double beta, cohumulone, oil; /* fractions, mL/100 g; checked, not used */
    int purpose, form;
};

/* "5 C sealed", "-18 C", "vacuum": a temperature, then how it is packed; either may be left out. */
static void read_kept(struct wf_json *j, const struct wf_json_field *f, const struct cJSON *node,
                      void *at)
{
    static const char wanted[] = "needs a temperature and open, sealed or vacuum, such as "
                                 "\"5 C sealed\"";
    struct wf_hop *hop = (void *)((char *)at + f->offset);
    const char *text = wf_json_string(node);
    char temperature[32], why[WF_REASON_MAX];
    size_t length = text ? strlen(text) : 0;
    for (int i = 0; length > 0 && packing_words[i]; i++) {
        size_t word = strlen(packing_words[i]);
        if (length < word || strcmp(text + length - word, packing_words[i]) != 0)
            continue;
        hop->packing = (enum wf_packing)i;
        length -= word;
        while (length > 0 && wf_ascii_blank(text[length - 1]))
            length--;
        if (length == 0)
            return;
    }
    if (length == 0 || length >= sizeof temperature) {
        wf_json_refuse_read(j, node, "%s", wanted);
        return;
    }
    memcpy(temperature, text, length);
    temperature[length] = '\0';
    if (!wf_quantity_parse(WF_DIM_TEMPERATURE, temperature, &hop->kept_celsius, why))
        wf_json_refuse_read(j, node, "%s", wanted);
    else if (hop->kept_celsius < KEPT_LEAST || hop->kept_celsius > KEPT_MOST)
        wf_json_refuse_read(j, node, "hops are kept between %.0f C and %.0f C", KEPT_LEAST,
                            KEPT_MOST);
}

static const struct wf_json_field hop_fields[] = {
    WF_INGREDIENT_FIELDS(struct hop_row, hop),
    {.key = "origin",
     .read = wf_json_text,
     .offset = WF_JSON_AT(struct hop_row, hop.origin, const char *),
     .high = 100},
    {WF_FIGURE("alpha", struct hop_row, hop.alpha, SHARE, 0, WF_MOST_ALPHA)},
    {WF_WANTED("alpha_range", struct hop_row, alpha_range, SHARE, 0, WF_MOST_ALPHA, -1)},
    {WF_FIGURE("beta", struct hop_row, beta, SHARE, 0, 0.30)},
    {WF_FIGURE("cohumulone", struct hop_row, cohumulone, SHARE, 0, 1)},
    {WF_FIGURE("oil", struct hop_row, oil, NUMBER, 0, 10)},
    {WF_FIGURE("loss", struct hop_row, hop.six_month_loss, SHARE, 0, 0.95)},
    {.key = "use",
     .read = wf_json_word,
     .offset = WF_JSON_AT(struct hop_row, purpose, int),
     .words = purpose_words},
    {.key = "character",
     .read = wf_json_object,
     .offset = offsetof(struct hop_row, hop.character),
     .table = &wf_hop_scores_table},
    {.key = "substitutes",
     .read = wf_json_ids,
     .offset = WF_JSON_AT(struct hop_row, hop.substitutes, const char *const *),
     .high = 30},
    {.key = "note",
     .read = wf_json_text,
     .offset = WF_JSON_AT(struct hop_row, hop.note, const char *)},
    {.key = "form",
     .read = wf_json_word,
     .offset = WF_JSON_AT(struct hop_row, form, int),
     .words = wf_form_words},
    {WF_FIGURE("have", struct hop_row, hop.have_g, MASS, 0, WF_MOST_KG), .scale = 1000},
    {WF_FIGURE("price", struct hop_row, hop.price_per_kg, PRICE, 0, WF_MOST_PRICE)},
    {WF_FIGURE("pack", struct hop_row, hop.pack_kg, MASS, WF_LEAST_PACK_KG, WF_MOST_KG)},
    {WF_FIGURE("step", struct hop_row, hop.step_kg, MASS, WF_LEAST_STEP_KG, WF_MOST_KG)},
    {.key = "kept", .read = read_kept, .offset = offsetof(struct hop_row, hop)},
};

static const struct wf_hop own_hop = {
    .alpha = (double)NAN,
    .alpha_low = (double)NAN,
    .alpha_high = (double)NAN,
    .six_month_loss = LOSS_UNKNOWN,
    .bittering = true,
    .aroma = true,
};

static void hop_before(struct wf_json *j, const struct cJSON *node, void *at)
{
    struct hop_row *row = at;
    struct wf_hop *hop = &row->hop;
    struct wf_identity who = wf_ingredient_identity(j, node, WF_KIND_HOP);
    const struct wf_hop *entry = who.entry ? who.entry : &own_hop;
    *hop = *entry;
    hop->of = wf_ingredient_keep(j, entry->id);
    hop->name = wf_ingredient_name(j, &who, entry->name);
    hop->origin = wf_ingredient_keep(j, entry->origin);
    hop->note = wf_ingredient_keep(j, entry->note);
    hop->source = wf_ingredient_keep(j, entry->source);
    hop->substitutes = wf_ingredient_keep_list(j, entry->substitutes);
    hop->have_g = (double)INFINITY;
    hop->price_per_kg = hop->pack_kg = hop->step_kg = (double)NAN;
    hop->packed = hop->opened = WF_NO_DATE;
    hop->packing = WF_PACKED_OPEN;
    hop->kept_celsius = 20;
    row->alpha_range = (struct wf_range){entry->alpha_low, entry->alpha_high, (double)NAN};
    row->purpose = !entry->aroma      ? PURPOSE_BITTERING
                   : entry->bittering ? PURPOSE_DUAL
                                      : PURPOSE_AROMA;
}

/* The usual range of a variety that nobody has told of is the lot's own figure. */
static void set_alpha_range(struct wf_json *j, const struct cJSON *node, struct hop_row *row)
{
    struct wf_hop *hop = &row->hop;
    hop->alpha_low = isnan(row->alpha_range.low) ? hop->alpha : row->alpha_range.low;
    hop->alpha_high = isnan(row->alpha_range.high) ? hop->alpha : row->alpha_range.high;
    if (isinf(hop->alpha_low) || isinf(hop->alpha_high))
        wf_json_refuse_read(j, wf_json_member(node, "alpha_range"),
                            "needs both ends, such as \"4.5..8.9 %%\"");
}

static void hop_after(struct wf_json *j, const struct cJSON *node, void *at)
{
    static const char *const needs[] = {"alpha"};
    struct hop_row *row = at;
    struct wf_hop *hop = &row->hop;
    wf_ingredient_check(j, node, WF_KIND_HOP, needs, WF_COUNT_OF(needs), "");
    wf_ingredient_check_dates(j, node, hop->packed, hop->opened);
    set_alpha_range(j, node, row);
    hop->bittering = row->purpose != PURPOSE_AROMA;
    hop->aroma = row->purpose != PURPOSE_BITTERING;
    hop->whole = row->form == 1;
    hop->of = wf_ingredient_of(j, hop->id, hop->of);
    if (!hop->name)
        hop->name = hop->id;
}

const struct wf_json_table wf_hop_table = {
    .fields = hop_fields,
    .field_count = WF_COUNT_OF(hop_fields),
    .size = sizeof(struct hop_row),
    .before = hop_before,
    .after = hop_after,
};
