/* report_survey.c: many beers against one store, as a table for people. */
#include "wortfit/report.h"

#include "base/number.h"
#include "base/try.h"
#include "report/style.h"
#include "report/table.h"
#include "wortfit/survey.h"

#include <math.h>
#include <string.h>

#define ID_MOST     26 /* code points */
#define BOUGHT_MOST 26
#define WHY_MOST    51
#define PROVED_GAP                                                                                 \
    (0.0001 * (1 + 1e-9)) /* as a search stops at it; by the last bit it may be over */

static size_t count_of(const struct wf_survey *v, enum wf_verdict verdict)
{
    size_t count = 0;
    for (size_t i = 0; i < v->count; i++)
        count += v->beers[i].verdict == verdict;
    return count;
}

static const char *or_money(const char *currency)
{
    return currency != NULL && *currency ? currency : "money";
}

/* ---- Head ------------------------------------------------------------------------------------ */

static void add_head(struct wf_text *out, const struct wf_survey *v)
{
    struct wf_text line = {0};
    wf_plain_add(&line, *v->store ? v->store : "The store");
    wf_text_add(&line, ": %zu beer%s can be brewed now", count_of(v, WF_VERDICT_NOW),
                count_of(v, WF_VERDICT_NOW) == 1 ? "" : "s");
    if (v->shop != NULL)
        wf_text_add(&line, ", %zu if something is bought", count_of(v, WF_VERDICT_BUY));
    if (count_of(v, WF_VERDICT_NOT) > 0)
        wf_text_add(&line, ", %zu not%s", count_of(v, WF_VERDICT_NOT),
                    v->shop != NULL ? " even so" : "");
    if (count_of(v, WF_VERDICT_OPEN) > 0)
        wf_text_add(&line, ", %zu not decided", count_of(v, WF_VERDICT_OPEN));
    out->failed = out->failed || line.failed;
    if (line.data != NULL)
        wf_style_wrap(out, line.data, WF_PAGE_WIDTH);
    wf_text_free(&line);
}

/* ---- Tables ---------------------------------------------------------------------------------- */

static void add_off_aims(struct wf_table *t, double off)
{
    if (isnan(off))
        wf_table_cell(t, "-");
    else
        wf_table_cell(t, "%.2f", fabs(off));
}

static void add_now(struct wf_table *t, const struct wf_surveyed *b, enum wf_units units)
{
    const struct wf_beer *beer = &b->recipe->predicted;
    char text[32];
    wf_table_cell(t, "%s", b->target->id);
    wf_table_cell(t, "%.2f", b->recipe->cost);
    add_off_aims(t, b->off_aims);
    wf_table_figure(t, WF_DIM_GRAVITY, beer->og, units);
    wf_table_figure(t, WF_DIM_SHARE, beer->abv, units);
    wf_table_cell(t, "%s",
                  wf_quantity_print(WF_DIM_BITTERNESS, beer->ibu, units, text, sizeof text));
    wf_table_figure(t, WF_DIM_BEER_COLOUR, beer->srm, units);
}

/* "2 x 500 g" of what is sold in packs. */
static void add_amount(struct wf_table *t, const struct wf_purchase *p, enum wf_units units)
{
    char text[64];
    double to_kg = p->kind == WF_KIND_HOP ? 0.001 : 1,
           one = isfinite(p->pack) ? p->pack : p->amount;
    double packs = round(p->amount / one);
    if (p->kind == WF_KIND_YEAST) {
        wf_table_cell(t, "1 pack");
        return;
    }
    wf_quantity_print(WF_DIM_MASS, one * to_kg, units, text, sizeof text);
    if (isfinite(p->pack))
        wf_table_cell(t, "%.0f x %s", packs, text);
    else
        wf_table_cell(t, "%s", text);
}

/* A line for each thing to buy; the beer stands before the first. */
static void add_buy(struct wf_table *t, const struct wf_surveyed *b, enum wf_units units)
{
    for (size_t i = 0; i < b->basket_count; i++) {
        if (i == 0) {
            wf_table_cell(t, "%s", b->target->id);
            wf_table_cell(t, "%.2f", b->recipe->cost);
            add_off_aims(t, b->off_aims);
        } else {
            for (int k = 0; k < 3; k++)
                wf_table_cell(t, "%s", "");
        }
        add_amount(t, &b->basket[i], units);
        wf_table_cell(t, "%s", b->basket[i].id);
    }
}

/* How far off a missed wish is, for a choice between them: a yeast or a thing that must be in it is
 * not there at all; of a figure, in parts of the end that it misses. */
static double how_far(const struct wf_wish_result *w)
{
    double end = w->got < w->wanted.low ? w->wanted.low : w->wanted.high;
    double of = fabs(w->dimension == WF_DIM_GRAVITY ? end - 1 : end);
    if (w->kind == WF_WISH_YEAST || w->kind == WF_WISH_USE)
        return INFINITY;
    return isfinite(w->missed_by) ? w->missed_by / fmax(of, 1e-3) : 0;
}

static const struct wf_wish_result *worst_missed(const struct wf_recipe *r, size_t *missed)
{
    const struct wf_wish_result *worst = NULL;
    *missed = 0;
    for (size_t i = 0; r != NULL && i < r->wish_count; i++) {
        const struct wf_wish_result *w = &r->wishes[i];
        *missed += !w->met;
        if (!w->met && (worst == NULL || how_far(w) > how_far(worst)))
            worst = w;
    }
    return worst;
}

static void add_why(struct wf_table *t, const struct wf_surveyed *b, enum wf_units units)
{
    size_t missed;
    const struct wf_wish_result *w = worst_missed(b->recipe, &missed);
    char wanted[64], got[64], more[32] = "";
    if (missed > 1)
        wf_snprintf(more, sizeof more, "; %zu more", missed - 1);
    if (w == NULL)
        wf_table_cell(t, "any malt: none of these belongs in it");
    else if (w->kind == WF_WISH_YEAST)
        wf_table_cell(t, "a yeast that suits%s", more);
    else if (w->kind == WF_WISH_USE)
        wf_table_cell(t, "%s%s", b->target->use[w->index], more);
    else
        wf_table_cell(t, "%s: %s, not %s%s", w->wish,
                      wf_style_figure(w->dimension, w->got, units, got, sizeof got),
                      wf_style_range(w->dimension, w->wanted, units, wanted, sizeof wanted), more);
}

static void add_not(struct wf_table *t, const struct wf_surveyed *b, enum wf_units units)
{
    wf_table_cell(t, "%s", b->target->id);
    add_why(t, b, units);
}

static void add_open(struct wf_table *t, const struct wf_surveyed *b, enum wf_units units)
{
    (void)units;
    wf_table_cell(t, "%s", b->target->id);
    wf_table_cell(t, "no recipe found, and none ruled out: see 'wortfit solve %s'", b->target->id);
}

/* A section: the beers of one verdict. */
struct section {
    enum wf_verdict verdict;
    const struct wf_column *columns;
    size_t column_count;
    void (*add)(struct wf_table *, const struct wf_surveyed *, enum wf_units);
};

static void add_section(struct wf_text *out, const struct wf_survey *v, const struct section *s,
                        const struct wf_report_style *style)
{
    struct wf_table t = {.columns = s->columns, .column_count = s->column_count};
    if (count_of(v, s->verdict) == 0)
        return;
    wf_text_add(out, "\n");
    wf_table_titles(&t);
    for (size_t i = 0; i < v->count; i++)
        if (v->beers[i].verdict == s->verdict)
            s->add(&t, &v->beers[i], style->units);
    wf_table_write(&t, style, 0, out);
}

static void add_sections(struct wf_text *out, const struct wf_survey *v,
                         const struct wf_report_style *style)
{
    const struct wf_column now[] = {
        {.title = "Can be brewed now", .most = ID_MOST},
        {.title = or_money(v->currency), .right = true, .most = 8},
        {.title = "off aims", .right = true},
        {.title = "gravity", .right = true},
        {.title = "alcohol", .right = true},
        {.title = "bitter", .right = true},
        {.title = "colour", .right = true},
    };
    const struct wf_column buy[] = {
        {.title = "If this is bought", .most = ID_MOST},
        {.title = or_money(v->shop_currency), .right = true, .most = 8},
        {.title = "off aims", .right = true},
        {.title = "to buy", .right = true},
        {.title = "", .most = BOUGHT_MOST},
    };
    const struct wf_column none[] = {
        {.title = v->shop != NULL ? "Not even so" : "Cannot be brewed", .most = ID_MOST},
        {.title = "the nearest recipe misses", .most = WHY_MOST},
    };
    const struct wf_column open[] = {{.title = "Not decided", .most = ID_MOST}, {.title = ""}};
    const struct section sections[] = {
        {WF_VERDICT_NOW, now, WF_COUNT_OF(now), add_now},
        {WF_VERDICT_BUY, buy, WF_COUNT_OF(buy), add_buy},
        {WF_VERDICT_NOT, none, WF_COUNT_OF(none), add_not},
        {WF_VERDICT_OPEN, open, WF_COUNT_OF(open), add_open},
    };
    for (size_t i = 0; i < WF_COUNT_OF(sections); i++)
        add_section(out, v, &sections[i], style);
}

/* ---- Notes ----------------------------------------------------------------------------------- */

static bool has_recipe(const struct wf_surveyed *b)
{
    return b->verdict == WF_VERDICT_NOW || b->verdict == WF_VERDICT_BUY;
}

static void add_proof(struct wf_text *out, const struct wf_survey *v)
{
    double worst = 0;
    size_t proved = 0, found = 0;
    for (size_t i = 0; i < v->count; i++) {
        if (!has_recipe(&v->beers[i]) || v->beers[i].recipe->proof_count == 0)
            continue;
        double gap = v->beers[i].recipe->proofs[0].gap;
        found++;
        proved += gap <= PROVED_GAP;
        worst = fmax(worst, gap);
    }
    if (found == 0)
        return;
    if (proved == found)
        wf_text_add(out, "Proved: no recipe for any of these is better by its goal.\n");
    else if (worst <= 1)
        wf_text_add(out,
                    "Proved for %zu of %zu: no recipe is better by its goal; for the others, by\n"
                    "at most %.2g %%.\n",
                    proved, found, 100 * worst);
    else
        wf_text_add(out, "Proved for %zu of %zu: no recipe is better by its goal.\n", proved,
                    found);
}

static void add_note(struct wf_text *out, const char *what, const char *note)
{
    if (note == NULL || *note == '\0')
        return;
    wf_text_add(out, "%s", what);
    wf_plain_add(out, note);
    wf_text_add(out, "\n");
}

static bool any_unpriced(const struct wf_survey *v)
{
    for (size_t i = 0; i < v->count; i++)
        if (v->beers[i].verdict == WF_VERDICT_NOW && v->beers[i].recipe->unpriced > 0)
            return true;
    return false;
}

static void add_prices(struct wf_text *out, const struct wf_survey *v)
{
    if (count_of(v, WF_VERDICT_NOW) > 0)
        add_note(out, "Prices in the store: ", v->note);
    if (any_unpriced(v))
        wf_text_add(out, "What has no price in the store is counted as 0.\n");
    if (v->shop != NULL && count_of(v, WF_VERDICT_BUY) > 0) {
        wf_text_add(out, "Least to buy, what is in the store being paid for: from ");
        wf_plain_add(out, *v->shop ? v->shop : "the shop");
        wf_text_add(out, ".\n");
        add_note(out, "Prices there: ", v->shop_note);
    }
    if (v->not_for_sale > 0)
        wf_text_add(out, "%zu lot%s of the shop without a price %s not bought.\n", v->not_for_sale,
                    v->not_for_sale == 1 ? "" : "s", v->not_for_sale == 1 ? "is" : "are");
}

/* "Best single buy: german-lager, which alone makes 14 of these." */
static void add_best_buy(struct wf_text *out, const struct wf_survey *v)
{
    const struct wf_best_buy *b = &v->best_buy;
    if (b->count < 2)
        return; /* as good as any thing that stands alone in the table above */
    wf_text_add(out, "Best to buy if it is but one thing: ");
    wf_plain_add(out, b->id);
    wf_text_add(out, ", which makes %s%zu more beers.\n", b->at_least ? "at least " : "", b->count);
}

static void add_notes(struct wf_text *out, const struct wf_survey *v)
{
    if (count_of(v, WF_VERDICT_NOW) + count_of(v, WF_VERDICT_BUY) > 0) {
        wf_text_add(out, "\n");
        add_best_buy(out, v);
        add_proof(out, v);
        wf_text_add(out, "Off aims: gravity, colour and bitterness, each 0 on its aim and 1 at "
                         "the end of\nwhat is allowed, summed.\n");
        add_prices(out, v);
    }
    if (v->no_yeasts && v->count > 0)
        wf_text_add(out, "The store lists no yeasts: none is asked for, and none is bought.\n");
}

enum wf_status wf_report_survey_text(const struct wf_survey *v, const struct wf_report_style *s,
                                     char **out, struct wf_error *e)
{
    struct wf_text text = {0};
    add_head(&text, v);
    add_sections(&text, v, s);
    add_notes(&text, v);
    return wf_text_hand_over(&text, out, e);
}
