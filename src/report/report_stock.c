/* report_stock.c: see report_stock.h. */
#include "report/report_stock.h"

#include "base/date.h"
#include "base/try.h"
#include "report/json_put.h"
#include "report/table.h"

#include <math.h>
#include <string.h>

/* What the lots of all kinds have in common, and what one of them has besides. */
struct lot {
    const char *id, *of, *name;
    double have;     /* kg, or packs */
    double price;    /* a kg, or a pack */
    double lovibond; /* malts */
    double alpha;    /* hops */
    long packed, opened;
};

static struct lot lot_at(const struct wf_stock_view *v, enum wf_kind kind, size_t i)
{
    size_t at = v->lots[kind][i];
    if (kind == WF_KIND_MALT) {
        const struct wf_malt *m = &v->store->malts[at];
        return (struct lot){.id = m->id,
                            .of = m->of,
                            .name = m->name,
                            .have = m->have_kg,
                            .price = m->price_per_kg,
                            .lovibond = m->grain.lovibond,
                            .packed = m->packed,
                            .opened = m->opened};
    }
    if (kind == WF_KIND_HOP) {
        const struct wf_hop *h = &v->store->hops[at];
        return (struct lot){.id = h->id,
                            .of = h->of,
                            .name = h->name,
                            .have = h->have_g / 1000,
                            .price = h->price_per_kg,
                            .alpha = h->alpha,
                            .packed = h->packed,
                            .opened = h->opened};
    }
    const struct wf_yeast *y = &v->store->yeasts[at];
    return (struct lot){.id = y->id,
                        .of = y->of,
                        .name = y->name,
                        .have = y->have,
                        .price = y->price,
                        .packed = y->packed,
                        .opened = y->opened};
}

/* Days since it was packed, or else opened; -1: nobody knows. */
static long age_of(const struct lot *lot, long today)
{
    long since = lot->packed != WF_NO_DATE ? lot->packed : lot->opened;
    return since != WF_NO_DATE && since <= today ? today - since : -1;
}

/* ---- Text ------------------------------------------------------------------------------------ */

struct cells {
    struct wf_table *table;
    const struct wf_report_style *style;
    long today;
};

typedef void cell_fn(const struct cells *c, const struct lot *lot);

static void id_cell(const struct cells *c, const struct lot *lot)
{
    wf_table_cell(c->table, "%s", lot->id);
}

static void have_cell(const struct cells *c, const struct lot *lot, enum wf_dimension d)
{
    char text[64];
    if (isinf(lot->have))
        wf_table_cell(c->table, "as wanted");
    else if (lot->have <= 0)
        wf_table_cell(c->table, "none");
    else
        wf_table_cell(c->table, "%s",
                      wf_style_figure(d, lot->have, c->style->units, text, sizeof text));
    if (lot->have <= 0)
        wf_table_mark(c->table, WF_MARK_BAD);
}

static void weight_cell(const struct cells *c, const struct lot *lot)
{
    have_cell(c, lot, WF_DIM_MASS);
}

static void packs_cell(const struct cells *c, const struct lot *lot)
{
    have_cell(c, lot, WF_DIM_NUMBER);
}

static void price_cell(const struct cells *c, const struct lot *lot)
{
    wf_table_figure(c->table, WF_DIM_PRICE, lot->price, c->style->units);
}

static void pack_price_cell(const struct cells *c, const struct lot *lot)
{
    wf_table_figure(c->table, WF_DIM_MONEY, lot->price, c->style->units);
}

static void colour_cell(const struct cells *c, const struct lot *lot)
{
    wf_table_figure(c->table, WF_DIM_MALT_COLOUR, lot->lovibond, c->style->units);
}

static void alpha_cell(const struct cells *c, const struct lot *lot)
{
    wf_table_figure(c->table, WF_DIM_SHARE, lot->alpha, c->style->units);
}

static void date_cell(const struct cells *c, long days)
{
    char text[WF_DATE_TEXT_MAX];
    wf_table_cell(c->table, "%s", wf_date_print(days, text));
}

static void packed_cell(const struct cells *c, const struct lot *lot)
{
    date_cell(c, lot->packed);
}

static void opened_cell(const struct cells *c, const struct lot *lot)
{
    date_cell(c, lot->opened);
}

static void age_cell(const struct cells *c, const struct lot *lot)
{
    long age = age_of(lot, c->today);
    if (age < 0)
        wf_table_cell(c->table, "-");
    else
        wf_table_cell(c->table, "%ld %s", age, age == 1 ? "day" : "days");
}

#define COLUMNS_MOST 7

/* The columns of a kind's table, the kind's own name as the first one's title. */
static const struct {
    const char *key; /* in JSON */
    struct wf_column columns[COLUMNS_MOST];
    cell_fn *cells[COLUMNS_MOST];
    size_t count;
} kind_row[WF_KIND_COUNT] = {
    [WF_KIND_MALT] = {"malts",
                      {{.title = "Malts"},
                       {"colour", true, 0},
                       {"have", true, 0},
                       {"price", true, 0},
                       {.title = "packed"},
                       {.title = "opened"},
                       {"age", true, 0}},
                      {id_cell, colour_cell, weight_cell, price_cell, packed_cell, opened_cell,
                       age_cell},
                      7},
    [WF_KIND_HOP] = {"hops",
                     {{.title = "Hops"},
                      {"alpha", true, 0},
                      {"have", true, 0},
                      {"price", true, 0},
                      {.title = "packed"},
                      {.title = "opened"},
                      {"age", true, 0}},
                     {id_cell, alpha_cell, weight_cell, price_cell, packed_cell, opened_cell,
                      age_cell},
                     7},
    [WF_KIND_YEAST] = {"yeasts",
                       {{.title = "Yeasts"},
                        {"packs", true, 0},
                        {"price", true, 0},
                        {.title = "packed"},
                        {.title = "opened"},
                        {"age", true, 0}},
                       {id_cell, packs_cell, pack_price_cell, packed_cell, opened_cell, age_cell},
                       6},
};

static void add_kind(struct wf_text *out, const struct wf_stock_view *v, enum wf_kind kind,
                     const struct wf_report_style *s)
{
    struct wf_table t = {.columns = kind_row[kind].columns, .column_count = kind_row[kind].count};
    const struct cells c = {&t, s, v->today};
    wf_table_titles(&t);
    for (size_t i = 0; i < v->count[kind]; i++) {
        struct lot lot = lot_at(v, kind, i);
        for (size_t n = 0; n < kind_row[kind].count; n++)
            kind_row[kind].cells[n](&c, &lot);
    }
    wf_table_write(&t, s, 0, out);
}

static void add_count(struct wf_text *out, size_t count, const char *deed, bool *begun)
{
    if (count > 0)
        wf_text_add(out, "%s%zu %s %s", *begun ? ", " : "", count, count == 1 ? "lot" : "lots",
                    deed);
    *begun = *begun || count > 0;
}

static void add_head(struct wf_text *out, const struct wf_stock_view *v,
                     const struct wf_report_style *s)
{
    bool begun = false;
    if (v->change) {
        add_count(out, v->added, "added", &begun);
        add_count(out, v->changed, "changed", &begun);
        add_count(out, v->removed, "removed", &begun);
        wf_text_add(out, "%s\n", begun ? "" : "nothing to change");
        return;
    }
    wf_style_line(out, s, WF_MARK_STRONG, v->store->name);
    if (v->count[WF_KIND_MALT] + v->count[WF_KIND_HOP] + v->count[WF_KIND_YEAST] == 0)
        wf_text_add(out, "No lots are like that.\n");
}

enum wf_status wf_report_stock_text(const struct wf_stock_view *v, const struct wf_report_style *s,
                                    char **out, struct wf_error *e)
{
    struct wf_text text = {0};
    add_head(&text, v, s);
    for (int kind = 0; kind < WF_KIND_COUNT; kind++) {
        if (v->count[kind] == 0)
            continue;
        wf_text_add(&text, "\n");
        add_kind(&text, v, (enum wf_kind)kind, s);
    }
    return wf_text_hand_over(&text, out, e);
}

/* ---- JSON ------------------------------------------------------------------------------------ */

static void put_date(struct wf_json_put *j, const char *key, long days)
{
    char text[WF_DATE_TEXT_MAX];
    wf_date_print(days, text);
    wf_put_string(j, key, text[0] ? text : NULL);
}

static void put_lot(struct wf_json_put *j, const struct lot *lot, enum wf_kind kind, long today)
{
    long age = age_of(lot, today);
    wf_put_open(j, NULL, '{', false);
    wf_put_string(j, "id", lot->id);
    wf_put_string(j, "is", lot->of && strcmp(lot->of, lot->id) != 0 ? lot->of : NULL);
    wf_put_string(j, "name", lot->name);
    wf_put_number(j, kind == WF_KIND_YEAST ? "have" : "have_kg", lot->have);
    wf_put_number(j, kind == WF_KIND_YEAST ? "price" : "price_per_kg", lot->price);
    if (kind == WF_KIND_MALT)
        wf_put_number(j, "lovibond", lot->lovibond);
    if (kind == WF_KIND_HOP)
        wf_put_number(j, "alpha", lot->alpha);
    put_date(j, "packed", lot->packed);
    put_date(j, "opened", lot->opened);
    wf_put_number(j, "age_days", age < 0 ? (double)NAN : (double)age);
    wf_put_close(j, '}');
}

enum wf_status wf_report_stock_json(const struct wf_stock_view *v, char **out, struct wf_error *e)
{
    struct wf_text text = {0};
    struct wf_json_put j = {.out = &text};
    wf_put_open(&j, NULL, '{', false);
    wf_put_string(&j, "store", v->store->name);
    wf_put_string(&j, "currency", *v->store->currency ? v->store->currency : NULL);
    put_date(&j, "on", v->today);
    if (v->change) {
        wf_put_count(&j, "added", v->added);
        wf_put_count(&j, "changed", v->changed);
        wf_put_count(&j, "removed", v->removed);
    }
    for (int kind = 0; kind < WF_KIND_COUNT; kind++) {
        wf_put_open(&j, kind_row[kind].key, '[', false);
        for (size_t i = 0; i < v->count[kind]; i++) {
            struct lot lot = lot_at(v, (enum wf_kind)kind, i);
            put_lot(&j, &lot, (enum wf_kind)kind, v->today);
        }
        wf_put_close(&j, ']');
    }
    wf_put_close(&j, '}');
    return wf_text_hand_over(&text, out, e);
}
