/* report_text.c: a recipe as a brewer reads it at a glance. */
#include "wortfit/report.h"

#include "base/alloc.h"
#include "base/number.h"
#include "base/try.h"
#include "report/report_parts.h"
#include "report/table.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#define MALT_MOST   40 /* code points of a name in a table */
#define HOP_MOST    28
#define WORDS_SHOWN 5   /* strongest words of character */
#define INDEX_SHOWN 0.5 /* weakest index worth a word */

static void add_figure(struct wf_text *out, const char *before, enum wf_dimension d, double value,
                       enum wf_units units, const char *after)
{
    char text[64];
    if (!isnan(value))
        wf_text_add(out, "%s%s%s", before, wf_quantity_print(d, value, units, text, sizeof text),
                    after);
}

/* ---- Head ------------------------------------------------------------------------------------ */

/* The strongest words of the beer's character, strongest first. */
static void add_character(struct wf_text *out, const struct wf_recipe *r)
{
    bool taken[WF_WORD_COUNT] = {false};
    for (int shown = 0; shown < WORDS_SHOWN; shown++) {
        int best = -1;
        for (int w = 0; w < WF_WORD_COUNT; w++)
            if (!taken[w] && r->character[w] >= INDEX_SHOWN &&
                (best < 0 || r->character[w] > r->character[best]))
                best = w;
        if (best < 0)
            break;
        taken[best] = true;
        wf_text_add(out, "%s%s %.1f",
                    shown ? ", " : "character: ", wf_word_name((enum wf_word)best),
                    r->character[best]);
    }
    if (memchr(taken, 1, sizeof taken))
        wf_text_add(out, "\n");
}

static void add_figures(struct wf_text *out, const struct wf_recipe *r,
                        const struct wf_report_style *s)
{
    const struct wf_beer *b = &r->predicted;
    add_figure(out, "original gravity ", WF_DIM_GRAVITY, b->og, s->units, "");
    add_figure(out, ", final ", WF_DIM_GRAVITY, b->fg, s->units, "");
    add_figure(out, ", alcohol ", WF_DIM_SHARE, b->abv, s->units, "");
    wf_text_add(out, "\n");
    wf_text_add(out, "colour %.1f SRM (%.0f EBC), bitterness %.1f IBU, ratio %.2f\n", b->srm,
                b->ebc, b->ibu, b->ratio);
}

static void add_beer(struct wf_text *out, const struct wf_recipe *r,
                     const struct wf_report_style *s)
{
    if (r->ranges)
        wf_part_ranges(out, r, s);
    else
        add_figures(out, r, s);
    add_character(out, r);
}

static void add_head(struct wf_text *out, const struct wf_recipe *r,
                     const struct wf_report_style *s)
{
    wf_text_add(out, "%s", wf_style_on(s, WF_MARK_STRONG));
    wf_plain_add(out, r->name);
    add_figure(out, ", ", WF_DIM_VOLUME, r->kettle.batch_l, s->units, "");
    wf_text_add(out, "%s\n", wf_style_off(s, WF_MARK_STRONG));
    add_beer(out, r, s);
}

/* ---- Grist ----------------------------------------------------------------------------------- */

static int heavier_first(const void *a, const void *b)
{
    const struct wf_recipe_malt *const *x = a, *const *y = b;
    return ((*x)->kg < (*y)->kg) - ((*x)->kg > (*y)->kg);
}

static void add_money(struct wf_table *t, double money)
{
    if (isnan(money))
        wf_table_cell(t, "-");
    else
        wf_table_cell(t, "%.2f", money);
}

static void add_malt(struct wf_table *t, const struct wf_recipe_malt *m,
                     const struct wf_report_style *s)
{
    wf_table_cell(t, "%s", m->name);
    wf_table_figure(t, WF_DIM_MASS, m->kg, s->units);
    wf_table_cell(t, "%.1f %%", 100 * m->share);
    add_money(t, m->cost);
}

static void add_grist(struct wf_text *out, const struct wf_recipe *r,
                      const struct wf_report_style *s)
{
    static const struct wf_column columns[] = {{.title = "Grist", .most = MALT_MOST},
                                               {.title = "weight", .right = true},
                                               {.title = "share", .right = true},
                                               {.title = "cost", .right = true}};
    struct wf_table t = {.columns = columns, .column_count = WF_COUNT_OF(columns)};
    const struct wf_recipe_malt **order = wf_alloc(r->malt_count, sizeof *order);
    double kg = 0;
    t.failed = !order;
    wf_table_titles(&t);
    for (size_t i = 0; order && i < r->malt_count; i++) {
        order[i] = &r->malts[i];
        kg += r->malts[i].kg;
    }
    if (order && r->malt_count > 1)
        qsort(order, r->malt_count, sizeof *order, heavier_first);
    for (size_t i = 0; order && i < r->malt_count; i++)
        add_malt(&t, order[i], s);
    wf_table_cell(&t, "in all");
    wf_table_figure(&t, WF_DIM_MASS, kg, s->units);
    wf_table_cell(&t, "%s", "");
    wf_table_cell(&t, "%s", "");
    wf_text_add(out, "\n");
    wf_table_write(&t, s, 0, out);
    wf_free(order);
}

/* ---- Hops and yeast -------------------------------------------------------------------------- */

/* When an addition is made: "60 min", "stand 20 min at 80 C". */
static void add_when(struct wf_table *t, const struct wf_recipe_hop *h, enum wf_units units)
{
    char span[32], heat[32];
    const struct wf_addition *a = &h->addition;
    switch (a->use) {
    case WF_HOP_FIRST_WORT:
        wf_table_cell(t, "first wort");
        break;
    case WF_HOP_STAND:
        wf_table_cell(t, "stand %s at %s",
                      wf_quantity_print(WF_DIM_TIME, a->minutes, units, span, sizeof span),
                      wf_quantity_print(WF_DIM_TEMPERATURE, a->celsius, units, heat, sizeof heat));
        break;
    case WF_HOP_DRY:
        wf_table_cell(t, "dry%s%s", isnan(h->days) ? "" : ", ",
                      isnan(h->days)
                          ? ""
                          : wf_quantity_print(WF_DIM_DAYS, h->days, units, span, sizeof span));
        break;
    case WF_HOP_BOIL:
    case WF_HOP_USE_COUNT:
        wf_table_cell(t, "boil %s",
                      wf_quantity_print(WF_DIM_TIME, a->minutes, units, span, sizeof span));
        break;
    }
}

static void add_hop(struct wf_table *t, const struct wf_recipe_hop *h,
                    const struct wf_report_style *s)
{
    add_when(t, h, s->units);
    wf_table_cell(t, "%s%s", h->name, h->whole ? " (whole)" : "");
    wf_table_cell(t, "%.1f %%", 100 * h->addition.alpha);
    wf_table_figure(t, WF_DIM_MASS, h->grams / 1000, s->units);
    if (h->addition.use == WF_HOP_DRY)
        wf_table_cell(t, "-");
    else
        wf_table_cell(t, "%.1f IBU", h->ibu);
    add_money(t, h->cost);
}

static void add_hops(struct wf_text *out, const struct wf_recipe *r,
                     const struct wf_report_style *s)
{
    static const struct wf_column columns[] = {
        {.title = "Hops"},
        {.title = "variety", .most = HOP_MOST},
        {.title = "alpha", .right = true},
        {.title = "weight", .right = true},
        {.title = "bitterness", .right = true},
        {.title = "cost", .right = true},
    };
    struct wf_table t = {.columns = columns, .column_count = WF_COUNT_OF(columns)};
    wf_text_add(out, "\n");
    if (r->hop_count == 0) {
        wf_text_add(out, "No hops\n");
        return;
    }
    wf_table_titles(&t);
    for (size_t i = 0; i < r->hop_count; i++)
        add_hop(&t, &r->hops[i], s);
    wf_table_write(&t, s, 0, out);
}

static void add_yeast(struct wf_text *out, const struct wf_recipe *r,
                      const struct wf_report_style *s)
{
    wf_text_add(out, "\n%sYeast%s  ", wf_style_on(s, WF_MARK_STRONG),
                wf_style_off(s, WF_MARK_STRONG));
    if (isnan(r->yeast.attenuation)) {
        wf_text_add(out, "none chosen: no final gravity and no alcohol are reckoned\n");
        return;
    }
    wf_plain_add(out, r->yeast.name);
    add_figure(out, ", attenuation ", WF_DIM_SHARE, r->yeast.attenuation, s->units, "");
    if (!isnan(r->yeast.cost))
        wf_text_add(out, ", cost %.2f", r->yeast.cost);
    wf_text_add(out, "\n");
}

static void add_ingredients(struct wf_text *out, const struct wf_recipe *r,
                            const struct wf_report_style *s)
{
    add_grist(out, r, s);
    add_hops(out, r, s);
    add_yeast(out, r, s);
}

void wf_part_nearest(struct wf_text *out, const struct wf_recipe *r,
                     const struct wf_report_style *s)
{
    wf_text_add(out, "\n%sThe nearest recipe%s\n", wf_style_on(s, WF_MARK_STRONG),
                wf_style_off(s, WF_MARK_STRONG));
    add_beer(out, r, s);
    wf_text_add(out, "\nIt misses:\n");
    wf_part_missed_wishes(out, r, s);
    add_ingredients(out, r, s);
    wf_part_cost(out, r, s);
}

enum wf_status wf_report_recipe_text(const struct wf_recipe *r, const struct wf_report_style *s,
                                     char **out, struct wf_error *e)
{
    struct wf_text text = {0};
    add_head(&text, r, s);
    if (r->status == WF_RECIPE_NONE)
        wf_part_misses(&text, r, s);
    add_ingredients(&text, r, s);
    wf_part_wishes(&text, r, s);
    wf_part_cost(&text, r, s);
    if (r->status != WF_RECIPE_NONE)
        wf_part_proof(&text, r, s);
    wf_part_worth(&text, r, s);
    return wf_text_hand_over(&text, out, e);
}
