/* report_compare.c: two recipes side by side. */
#include "wortfit/report.h"

#include "base/number.h"
#include "base/try.h"
#include "pantry/words.h"
#include "report/glass.h"
#include "report/json_put.h"
#include "report/table.h"

#include <math.h>
#include <string.h>

/* ---- Text ------------------------------------------------------------------------------------ */

static void add_heads(struct wf_text *out, const struct wf_comparison *c,
                      const char *const title[2], const struct wf_report_style *s)
{
    char litres[32];
    for (int which = 0; which < 2; which++) {
        const struct wf_recipe *r = c->recipe[which];
        wf_text_add(out, "%s%s%s  ", wf_style_on(s, WF_MARK_STRONG), title[which],
                    wf_style_off(s, WF_MARK_STRONG));
        wf_plain_add(out, r->name);
        wf_text_add(
            out, ", %s\n",
            wf_quantity_print(WF_DIM_VOLUME, r->kettle.batch_l, s->units, litres, sizeof litres));
    }
}

static bool is_priced(const struct wf_recipe *r)
{
    return r->unpriced < r->ingredients;
}

static bool same_money(const struct wf_comparison *c)
{
    const char *first = c->recipe[0]->currency, *second = c->recipe[1]->currency;
    return strcmp(first ? first : "", second ? second : "") == 0;
}

static void add_cost(struct wf_table *t, const struct wf_recipe *r)
{
    if (is_priced(r))
        wf_table_cell(t, "%.2f%s%s", r->cost, r->currency && *r->currency ? " " : "",
                      r->currency ? r->currency : "");
    else
        wf_table_cell(t, "-");
}

static void add_costs(struct wf_text *out, const struct wf_comparison *c,
                      const char *const title[2], const struct wf_report_style *s)
{
    const struct wf_column columns[] = {{.title = "Cost"},
                                        {.title = title[0], .right = true},
                                        {.title = title[1], .right = true},
                                        {.title = "difference", .right = true}};
    struct wf_table t = {.columns = columns, .column_count = WF_COUNT_OF(columns)};
    const struct wf_recipe *first = c->recipe[0], *second = c->recipe[1];
    if (!is_priced(first) && !is_priced(second))
        return;
    wf_table_titles(&t);
    wf_table_cell(&t, "of what is priced");
    add_cost(&t, first);
    add_cost(&t, second);
    if (is_priced(first) && is_priced(second) && same_money(c))
        wf_table_cell(&t, "%+.2f", second->cost - first->cost);
    else
        wf_table_cell(&t, "-");
    if (first->unpriced > 0 || second->unpriced > 0) {
        wf_table_cell(&t, "lots without a price");
        wf_table_cell(&t, "%zu", first->unpriced);
        wf_table_cell(&t, "%zu", second->unpriced);
        wf_table_cell(&t, "%s", "");
    }
    wf_text_add(out, "\n");
    wf_table_write(&t, s, 0, out);
}

static void add_yeasts(struct wf_text *out, const struct wf_comparison *c,
                       const char *const title[2], const struct wf_report_style *s)
{
    static const struct wf_column columns[] = {{.title = ""}, {.title = ""}};
    struct wf_table t = {.columns = columns, .column_count = WF_COUNT_OF(columns)};
    wf_text_add(out, "\n%sYeast%s\n", wf_style_on(s, WF_MARK_STRONG),
                wf_style_off(s, WF_MARK_STRONG));
    for (int which = 0; which < 2; which++) {
        const struct wf_recipe *r = c->recipe[which];
        wf_table_cell(&t, "%s", title[which]);
        wf_table_cell(&t, "%s", r->yeast.name ? r->yeast.name : "none chosen");
    }
    wf_table_write(&t, s, 0, out);
}

enum wf_status wf_report_compare_text(const struct wf_comparison *c,
                                      const struct wf_report_style *s, char **out,
                                      struct wf_error *e)
{
    static const char *const title[2] = {"A", "B"};
    struct wf_text text = {0};
    add_heads(&text, c, title, s);
    wf_glass_grist(&text, c, title, s);
    wf_glass_hops(&text, c, title, s);
    add_yeasts(&text, c, title, s);
    wf_glass_figures(&text, c, title, s);
    wf_glass_character(&text, c, title, s);
    add_costs(&text, c, title, s);
    return wf_text_hand_over(&text, out, e);
}

/* ---- JSON ------------------------------------------------------------------------------------ */

/* A figure of both; what is not finite is left out. */
static void write_pair(struct wf_json_put *j, const char *key, double first, double second)
{
    wf_put_open(j, key, '{', true);
    wf_put_number(j, "first", first);
    wf_put_number(j, "second", second);
    wf_put_number(j, "difference", second - first);
    wf_put_close(j, '}');
}

/* A weight or money, without the noise in its last bits. */
static void write_clean_pair(struct wf_json_put *j, const char *key, const double pair[2])
{
    double first = round(pair[0] * 1e9) / 1e9, second = round(pair[1] * 1e9) / 1e9;
    wf_put_open(j, key, '{', true);
    wf_put_number(j, "first", first);
    wf_put_number(j, "second", second);
    wf_put_number(j, "difference", round((second - first) * 1e9) / 1e9);
    wf_put_close(j, '}');
}

static void write_texts(struct wf_json_put *j, const char *key, const char *first,
                        const char *second)
{
    wf_put_open(j, key, '{', true);
    wf_put_string(j, "first", first);
    wf_put_string(j, "second", second);
    wf_put_close(j, '}');
}

static void write_malts(struct wf_json_put *j, const struct wf_comparison *c)
{
    wf_put_open(j, "malts", '[', false);
    for (size_t i = 0; i < c->malt_count; i++) {
        const struct wf_compared_malt *m = &c->malts[i];
        wf_put_open(j, NULL, '{', false);
        wf_put_string(j, "id", m->id);
        wf_put_string(j, "name", m->name);
        write_clean_pair(j, "kg", m->kg);
        write_pair(j, "share", m->share[0], m->share[1]);
        wf_put_close(j, '}');
    }
    wf_put_close(j, ']');
}

static void write_hops(struct wf_json_put *j, const struct wf_comparison *c)
{
    wf_put_open(j, "hops", '[', false);
    for (size_t i = 0; i < c->hop_count; i++) {
        const struct wf_compared_hop *h = &c->hops[i];
        wf_put_open(j, NULL, '{', false);
        wf_put_string(j, "id", h->id);
        wf_put_string(j, "name", h->name);
        wf_put_string(j, "use", wf_hop_use_words[h->use]);
        if (h->use == WF_HOP_BOIL || h->use == WF_HOP_STAND)
            wf_put_number(j, "minutes", h->minutes);
        if (h->use == WF_HOP_STAND)
            wf_put_number(j, "temperature_c", h->celsius);
        write_clean_pair(j, "g", h->grams);
        write_pair(j, "g_per_l", h->dose[0], h->dose[1]);
        write_pair(j, "ibu", h->ibu[0], h->ibu[1]);
        wf_put_close(j, '}');
    }
    wf_put_close(j, ']');
}

static void write_predicted(struct wf_json_put *j, const struct wf_beer *a, const struct wf_beer *b)
{
    wf_put_open(j, "predicted", '{', false);
    write_pair(j, "og", a->og, b->og);
    write_pair(j, "fg", a->fg, b->fg);
    write_pair(j, "abv", a->abv, b->abv);
    write_pair(j, "srm", a->srm, b->srm);
    write_pair(j, "ebc", a->ebc, b->ebc);
    write_pair(j, "ibu", a->ibu, b->ibu);
    write_pair(j, "ratio", a->ratio, b->ratio);
    write_pair(j, "lintner", a->lintner, b->lintner);
    wf_put_close(j, '}');
}

static void write_character(struct wf_json_put *j, const struct wf_comparison *c)
{
    wf_put_open(j, "character", '{', false);
    for (int w = 0; w < WF_WORD_COUNT; w++) {
        double first = c->recipe[0]->character[w], second = c->recipe[1]->character[w];
        if (first > 0 || second > 0)
            write_pair(j, wf_word_name((enum wf_word)w), first, second);
    }
    wf_put_close(j, '}');
}

enum wf_status wf_report_compare_json(const struct wf_comparison *c, char **out, struct wf_error *e)
{
    struct wf_text text = {0};
    struct wf_json_put j = {.out = &text};
    const struct wf_recipe *a = c->recipe[0], *b = c->recipe[1];
    wf_put_open(&j, NULL, '{', false);
    write_texts(&j, "compare", a->name, b->name);
    write_pair(&j, "batch_l", a->kettle.batch_l, b->kettle.batch_l);
    write_malts(&j, c);
    write_hops(&j, c);
    write_texts(&j, "yeast", a->yeast.id, b->yeast.id);
    write_predicted(&j, &a->predicted, &b->predicted);
    write_character(&j, c);
    write_clean_pair(&j, "cost", (const double[]){a->cost, b->cost});
    write_texts(&j, "currency", a->currency, b->currency);
    write_pair(&j, "unpriced", (double)a->unpriced, (double)b->unpriced);
    wf_put_close(&j, '}');
    return wf_text_hand_over(&text, out, e);
}
