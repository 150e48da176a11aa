/* report_beer.c: what a target asks for, in a brewer's words. */
#include "report/report_beer.h"

#include "base/number.h"
#include "base/try.h"
#include "report/table.h"

#include <string.h>

#define CELL_MOST 256

/* Adds to a list in a cell: "citrus >= 2, from USA". */
static void join(char cell[CELL_MOST], const char *between, const char *before, const char *what)
{
    size_t used = strlen(cell);
    wf_snprintf(cell + used, CELL_MOST - used, "%s%s%s", used ? between : "", before, what);
}

/* "cascade or centennial", after `before`. */
static void join_either(char cell[CELL_MOST], const char *before, const char *const *words)
{
    for (const char *const *w = words; w && *w; w++)
        join(cell, w == words ? ", " : " or ", w == words ? before : "", *w);
}

static void join_wishes(char cell[CELL_MOST], const struct wf_word_wish *wishes, size_t count)
{
    char wish[96], range[64];
    for (size_t i = 0; i < count; i++) {
        wf_style_range(WF_DIM_NUMBER, wishes[i].index, WF_UNITS_METRIC, range, sizeof range);
        wf_snprintf(wish, sizeof wish, "%s %s", wf_word_name(wishes[i].word), range);
        join(cell, ", ", "", wish);
    }
}

/* ---- Figures --------------------------------------------------------------------------------- */

static void range_cell(struct wf_table *t, enum wf_dimension d, struct wf_range r,
                       enum wf_units units)
{
    char text[64];
    if (wf_range_is_any(r))
        wf_table_cell(t, "-");
    else
        wf_table_cell(t, "%s", wf_style_range(d, r, units, text, sizeof text));
}

static void add_figures(struct wf_text *out, const struct wf_target *b,
                        const struct wf_report_style *s)
{
    static const struct wf_column columns[] = {
        {.title = "Figures"}, {.title = "wanted"}, {.title = "guideline"}};
    const struct {
        const char *label;
        enum wf_dimension dimension;
        struct wf_range wanted, guideline;
    } rows[] = {
        {"original gravity", WF_DIM_GRAVITY, b->og, b->guideline.og},
        {"final gravity", WF_DIM_GRAVITY, b->fg, b->guideline.fg},
        {"alcohol", WF_DIM_SHARE, b->abv, b->guideline.abv},
        {"colour", WF_DIM_BEER_COLOUR, b->colour, b->guideline.colour},
        {"bitterness", WF_DIM_BITTERNESS, b->bitterness, b->guideline.bitterness},
        {"bitterness ratio", WF_DIM_NUMBER, b->ratio, wf_range_any()},
        {"attenuation", WF_DIM_SHARE, b->attenuation, wf_range_any()},
    };
    struct wf_table t = {.columns = columns, .column_count = WF_COUNT_OF(columns)};
    wf_table_titles(&t);
    for (size_t i = 0; i < WF_COUNT_OF(rows); i++) {
        if (wf_range_is_any(rows[i].wanted) && wf_range_is_any(rows[i].guideline))
            continue;
        wf_table_cell(&t, "%s", rows[i].label);
        range_cell(&t, rows[i].dimension, rows[i].wanted, s->units);
        range_cell(&t, rows[i].dimension, rows[i].guideline, s->units);
    }
    wf_text_add(out, "\n");
    wf_table_write(&t, s, 0, out);
}

/* ---- Grist ----------------------------------------------------------------------------------- */

/* "1 to 2", "at least 1", "at most 3". */
static void kinds_cell(struct wf_table *t, int least, int most)
{
    if (least >= 0 && most >= 0)
        wf_table_cell(t, "%d to %d", least, most);
    else if (least >= 0)
        wf_table_cell(t, "at least %d", least);
    else if (most >= 0)
        wf_table_cell(t, "at most %d", most);
    else
        wf_table_cell(t, "%s", "");
}

static void add_rules(struct wf_text *out, const struct wf_target *b,
                      const struct wf_report_style *s)
{
    static const struct wf_column columns[] = {
        {.title = "Grist", .most = 48}, {.title = "share"}, {.title = "different ones"}};
    struct wf_table t = {.columns = columns, .column_count = WF_COUNT_OF(columns)};
    if (b->rule_count == 0)
        return;
    wf_table_titles(&t);
    for (size_t i = 0; i < b->rule_count; i++) {
        const struct wf_rule *r = &b->rules[i];
        wf_table_cell(&t, "%s", r->words);
        if (r->share.low >= 1)
            wf_table_cell(&t, "all of it");
        else
            range_cell(&t, WF_DIM_SHARE, r->share, s->units);
        kinds_cell(&t, r->least, r->most);
    }
    wf_text_add(out, "\n");
    wf_table_write(&t, s, 0, out);
}

/* ---- Hops ------------------------------------------------------------------------------------ */

static void add_slot(struct wf_table *t, const struct wf_slot *slot, enum wf_units units)
{
    char which[CELL_MOST] = "", kinds[32], dose[64];
    wf_table_cell(t, "%s", slot->at);
    wf_table_cell(t, "%s",
                  slot->dosed ? wf_range_print(WF_DIM_DOSE, slot->dose, units, dose, sizeof dose)
                              : "as needed");
    join_either(which, "", slot->hops);
    join_either(which, "from ", slot->origins);
    join_wishes(which, slot->wishes, slot->wish_count);
    if (slot->most > 1) {
        wf_snprintf(kinds, sizeof kinds, "%d", slot->most);
        join(which, ", ", "varieties up to ", kinds);
    }
    wf_table_cell(t, "%s", *which ? which : "any");
}

static void add_slots(struct wf_text *out, const struct wf_target *b,
                      const struct wf_report_style *s)
{
    static const struct wf_column columns[] = {
        {.title = "Hops"}, {.title = "dose"}, {.title = "which"}};
    struct wf_table t = {.columns = columns, .column_count = WF_COUNT_OF(columns)};
    if (b->slot_count == 0)
        return;
    wf_table_titles(&t);
    for (size_t i = 0; i < b->slot_count; i++)
        add_slot(&t, &b->slots[i], s->units);
    wf_text_add(out, "\n");
    wf_table_write(&t, s, 0, out);
}

/* ---- The rest -------------------------------------------------------------------------------- */

#define LABEL_WIDTH 13 /* of the widest label below */

static void add_list(struct wf_text *out, const char *label, const char *const *words,
                     const struct wf_report_style *s)
{
    struct wf_text list = {0};
    for (const char *const *w = words; w && *w; w++)
        wf_text_add(&list, "%s%s", w == words ? "" : ", ", *w);
    if (list.length > 0)
        wf_style_labelled(out, s, WF_MARK_STRONG, label, LABEL_WIDTH, list.data);
    out->failed = out->failed || list.failed;
    wf_text_free(&list);
}

static void add_rest(struct wf_text *out, const struct wf_target *b,
                     const struct wf_report_style *s)
{
    char character[CELL_MOST] = "", mash[64];
    wf_text_add(out, "\n");
    join_wishes(character, b->wishes, b->wish_count);
    if (*character)
        wf_style_labelled(out, s, WF_MARK_STRONG, "Character", LABEL_WIDTH, character);
    add_list(out, "Yeast", b->yeasts, s);
    add_list(out, "Must be in it", b->use, s);
    add_list(out, "Must not", b->avoid, s);
    wf_snprintf(mash, sizeof mash, "diastatic power %.0f Lintner or more", b->diastatic);
    wf_style_labelled(out, s, WF_MARK_STRONG, "Mash", LABEL_WIDTH, mash);
}

void wf_beer_more(struct wf_text *out, const void *item, const struct wf_report_style *s)
{
    const struct wf_target *b = item;
    add_figures(out, b, s);
    add_rules(out, b, s);
    add_slots(out, b, s);
    add_rest(out, b, s);
}
