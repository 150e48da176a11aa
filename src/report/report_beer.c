/* report_beer.c: what a target asks for, in a brewer's words. */
#include "report/report_beer.h"

#include "base/number.h"
#include "base/try.h"
#include "report/table.h"

#include <stdio.h>
#include <string.h>

#define CELL_MOST 256

/* Adds to a list in a cell: "citrus >= 2, from USA". */
static void join(char cell[CELL_MOST], const char *before, const char *what)
{
    size_t used = strlen(cell);
    wf_snprintf(cell + used, CELL_MOST - used, "%s%s%s", used ? ", " : "", before, what);
}

static void join_all(char cell[CELL_MOST], const char *const *words)
{
    for (; words && *words; words++)
        join(cell, "", *words);
}

static void join_wishes(char cell[CELL_MOST], const struct wf_word_wish *wishes, size_t count,
                        enum wf_units units)
{
    char wish[96], range[64];
    for (size_t i = 0; i < count; i++) {
        wf_range_print(WF_DIM_NUMBER, wishes[i].index, units, range, sizeof range);
        wf_snprintf(wish, sizeof wish, "%s %s", wf_word_name(wishes[i].word), range);
        join(cell, "", wish);
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
        wf_table_cell(t, "%s", wf_range_print(d, r, units, text, sizeof text));
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
                  slot->dosed
                      ? wf_range_print(WF_DIM_DOSE, slot->dose, units, dose, sizeof dose)
                      : "as needed");
    join_all(which, slot->hops);
    for (const char *const *o = slot->origins; o && *o; o++)
        join(which, "from ", *o);
    join_wishes(which, slot->wishes, slot->wish_count, units);
    if (slot->most > 1) {
        wf_snprintf(kinds, sizeof kinds, "%d", slot->most);
        join(which, "varieties up to ", kinds);
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

static void list_row(struct wf_table *t, const char *label, const char *const *words)
{
    char cell[CELL_MOST] = "";
    join_all(cell, words);
    if (!*cell)
        return;
    wf_table_cell(t, "%s", label);
    wf_table_mark(t, WF_MARK_STRONG);
    wf_table_cell(t, "%s", cell);
}

static void add_rest(struct wf_text *out, const struct wf_target *b,
                     const struct wf_report_style *s)
{
    static const struct wf_column columns[] = {{.title = ""}, {.title = ""}};
    struct wf_table t = {.columns = columns, .column_count = WF_COUNT_OF(columns)};
    char character[CELL_MOST] = "";
    join_wishes(character, b->wishes, b->wish_count, s->units);
    if (*character) {
        wf_table_cell(&t, "Character");
        wf_table_mark(&t, WF_MARK_STRONG);
        wf_table_cell(&t, "%s", character);
    }
    list_row(&t, "Yeast", b->yeasts);
    list_row(&t, "Must be in it", b->use);
    list_row(&t, "Must not", b->avoid);
    wf_table_cell(&t, "Mash");
    wf_table_mark(&t, WF_MARK_STRONG);
    wf_table_cell(&t, "diastatic power %.0f Lintner or more", b->diastatic);
    wf_text_add(out, "\n");
    wf_table_write(&t, s, 0, out);
}

void wf_beer_more(struct wf_text *out, const void *item, const struct wf_report_style *s)
{
    const struct wf_target *b = item;
    add_figures(out, b, s);
    add_rules(out, b, s);
    add_slots(out, b, s);
    add_rest(out, b, s);
}
