/* report_plan.c: several beers from one store: what goes where, what to buy, each recipe in short.
 */
#include "wortfit/report.h"

#include "base/number.h"
#include "base/try.h"
#include "report/report_in_short.h"
#include "report/report_parts.h"
#include "report/table.h"
#include "wortfit/plan.h"

#include <math.h>
#include <string.h>

/* Beers beside each other in one table: more pass the page. Pounds and ounces are wide. */
#define BESIDE 4
static const size_t beside[] = {[WF_UNITS_METRIC] = BESIDE, [WF_UNITS_US] = 2};
/* As in report_proof.c. */
#define PROVED_GAP (0.0001 * (1 + 1e-9))

struct page {
    struct wf_text *out;
    const struct wf_plan *p;
    const struct wf_report_style *s;
};

static void strong(const struct page *g, const char *words)
{
    wf_text_add(g->out, "%s%s%s", wf_style_on(g->s, WF_MARK_STRONG), words,
                wf_style_off(g->s, WF_MARK_STRONG));
}

static void add_money(const struct page *g, double value)
{
    wf_text_add(g->out, "%.2f", value);
    if (*g->p->currency != '\0') {
        wf_text_add(g->out, " ");
        wf_plain_add(g->out, g->p->currency);
    }
}

/* ---- The beers ------------------------------------------------------------------------------- */

static void add_beers(const struct page *g)
{
    static const struct wf_column columns[] = {{.title = "", .right = true},
                                               {.title = "Beer", .most = 48},
                                               {.title = "batch", .right = true},
                                               {.title = ""}};
    struct wf_table t = {.columns = columns, .column_count = WF_COUNT_OF(columns)};
    wf_table_titles(&t);
    for (size_t b = 0; b < g->p->beer_count; b++) {
        const struct wf_plan_place *beer = &g->p->beers[b];
        bool none = g->p->status == WF_RECIPE_NONE;
        wf_table_cell(&t, "%zu", b + 1);
        wf_table_cell(&t, "%s", beer->name);
        wf_table_figure(&t, WF_DIM_VOLUME, beer->batch_l, g->s->units);
        if (!beer->possible)
            wf_table_cell(&t, "cannot be brewed, even alone");
        else if (beer->recipe != NULL)
            wf_table_cell(&t, "%s", "");
        else
            wf_table_cell(&t, "%s", none ? "could be brewed alone" : "left out");
    }
    wf_table_write(&t, g->s, 0, g->out);
}

/* ---- Lots ------------------------------------------------------------------------------------ */

static void amount_cell(struct wf_table *t, enum wf_kind kind, double amount, enum wf_units units)
{
    if (!(fabs(amount) > 1e-9))
        wf_table_cell(t, "-");
    else if (kind == WF_KIND_YEAST)
        wf_table_cell(t, "%.0f", amount);
    else
        wf_table_figure(t, WF_DIM_MASS, kind == WF_KIND_HOP ? amount / 1000 : amount, units);
}

/* What goes where, for some of the beers; in the last table also what is left. */
static void add_lots(const struct page *g, const size_t *beers, size_t count, bool last)
{
    struct wf_column columns[BESIDE + 3] = {{.title = "What goes where", .most = 24}};
    char title[BESIDE][24];
    struct wf_table t = {.columns = columns, .column_count = count + (last ? 3 : 1)};
    for (size_t i = 0; i < count; i++) {
        wf_snprintf(title[i], sizeof title[i], "in %zu", beers[i] + 1);
        columns[i + 1] = (struct wf_column){.title = title[i], .right = true};
    }
    columns[count + 1] = (struct wf_column){.title = "in all", .right = true};
    columns[count + 2] = (struct wf_column){.title = "left", .right = true};
    wf_table_titles(&t);
    for (size_t l = 0; l < g->p->lot_count; l++) {
        const struct wf_plan_lot *lot = &g->p->lots[l];
        wf_table_cell(&t, "%s", lot->name);
        for (size_t i = 0; i < count; i++)
            amount_cell(&t, lot->kind, lot->by_beer[beers[i]], g->s->units);
        if (!last)
            continue;
        amount_cell(&t, lot->kind, lot->used, g->s->units);
        amount_cell(&t, lot->kind, lot->hand + lot->buy - lot->used, g->s->units);
    }
    wf_text_add(g->out, "\n");
    wf_table_write(&t, g->s, 0, g->out);
}

static void add_all_lots(const struct page *g)
{
    size_t beers[BESIDE], count = 0, done = 0;
    for (size_t b = 0; b < g->p->beer_count; b++) {
        if (g->p->beers[b].recipe == NULL)
            continue;
        beers[count++] = b;
        done++;
        if (count < beside[g->s->units] && done < g->p->brewed)
            continue;
        add_lots(g, beers, count, done == g->p->brewed);
        count = 0;
    }
}

/* ---- To buy ---------------------------------------------------------------------------------- */

static void pack_cell(struct wf_table *t, const struct wf_plan_lot *l, enum wf_units units)
{
    char text[64];
    if (isnan(l->packs))
        wf_table_cell(t, "%s", "");
    else
        wf_table_cell(t, "%.0f x %s", l->packs,
                      wf_quantity_print(WF_DIM_MASS,
                                        l->kind == WF_KIND_HOP ? l->pack / 1000 : l->pack, units,
                                        text, sizeof text));
}

static void add_bought(const struct page *g)
{
    static const struct wf_column columns[] = {{.title = "To buy", .most = 44},
                                               {.title = "amount", .right = true},
                                               {.title = "packs", .right = true},
                                               {.title = "cost", .right = true}};
    struct wf_table t = {.columns = columns, .column_count = WF_COUNT_OF(columns)};
    size_t count = 0;
    for (size_t l = 0; l < g->p->lot_count; l++) {
        const struct wf_plan_lot *lot = &g->p->lots[l];
        if (!(lot->buy > 0))
            continue;
        if (count++ == 0)
            wf_table_titles(&t);
        wf_table_cell(&t, "%s", lot->name);
        amount_cell(&t, lot->kind, lot->buy, g->s->units);
        pack_cell(&t, lot, g->s->units);
        if (isnan(lot->price))
            wf_table_cell(&t, "-");
        else
            wf_table_cell(&t, "%.2f", lot->money);
    }
    if (count == 0)
        return;
    wf_text_add(g->out, "\n");
    wf_table_write(&t, g->s, 0, g->out);
}

static void add_note(const struct page *g, const char *label, const char *note)
{
    if (note == NULL || *note == '\0')
        return;
    wf_text_add(g->out, "%s: ", label);
    wf_plain_add(g->out, note);
    wf_text_add(g->out, "\n");
}

static void add_sums(const struct page *g)
{
    wf_text_add(g->out, "\n");
    strong(g, "Money to spend");
    wf_text_add(g->out, "  ");
    add_money(g, g->p->money);
    wf_text_add(g->out, "%s\nWorth of all that is used  ",
                g->p->money > 0 ? "" : ": the stock does for all");
    add_money(g, g->p->worth);
    wf_text_add(g->out, "\n");
    if (g->p->unpriced == 1)
        wf_text_add(g->out, "One lot has no price and is counted as 0.\n");
    if (g->p->unpriced > 1)
        wf_text_add(g->out, "%zu lots have no price and are counted as 0.\n", g->p->unpriced);
    add_note(g, "Prices", g->p->price_note);
    add_note(g, "Prices of the shop", g->p->shop_note);
}

/* ---- How good -------------------------------------------------------------------------------- */

static const struct {
    const char *goal, *title, *proved, *none_under;
} goal_row[] = {
    {"beers left out", "most beers", "proved: no more of these can be brewed from this stock",
     NULL},
    {"money", "least money", "proved: no plan for these beers spends less", "spends under"},
    {"worth", "then worth", "proved: of those, none uses up less", "uses up less than"},
};

/* How far from the best a plan may be. */
static void add_distance(struct wf_table *t, const struct wf_proof *proof, size_t row)
{
    double percent = 100 * proof->gap;
    if (goal_row[row].none_under == NULL)
        wf_table_cell(t, "not proved: at most %.0f more could be brewed",
                      proof->value - proof->bound);
    else if (!(percent < 100))
        wf_table_cell(t, "not proved: better ones may exist, give it more time");
    else
        wf_table_cell(t, "within %.2g %% of the best: none %s %.2f", percent,
                      goal_row[row].none_under, proof->bound);
}

static void add_proofs(const struct page *g)
{
    static const struct wf_column columns[] = {{.title = "Goal"}, {.title = "how good"}};
    struct wf_table t = {.columns = columns, .column_count = WF_COUNT_OF(columns)};
    wf_table_titles(&t);
    for (size_t i = 0; i < g->p->proof_count; i++) {
        const struct wf_proof *proof = &g->p->proofs[i];
        size_t row = 0;
        while (strcmp(goal_row[row].goal, proof->goal) != 0)
            row++;
        wf_table_cell(&t, "%s", goal_row[row].title);
        if (proof->gap <= PROVED_GAP)
            wf_table_cell(&t, "%s", goal_row[row].proved);
        else
            add_distance(&t, proof, row);
    }
    wf_text_add(g->out, "\n");
    wf_table_write(&t, g->s, 0, g->out);
}

/* ---- The recipes in short -------------------------------------------------------------------- */

static void add_figures(const struct page *g, struct wf_text *line, const struct wf_recipe *r)
{
    static const struct {
        enum wf_dimension dimension;
        const char *lead;
    } figures[] = {{WF_DIM_GRAVITY, "original gravity "},
                   {WF_DIM_BEER_COLOUR, ", "},
                   {WF_DIM_BITTERNESS, ", "}};
    const double value[] = {r->predicted.og, r->predicted.srm, r->predicted.ibu};
    char text[64];
    for (size_t i = 0; i < WF_COUNT_OF(figures); i++)
        wf_text_add(
            line, "%s%s", figures[i].lead,
            wf_quantity_print(figures[i].dimension, value[i], g->s->units, text, sizeof text));
    if (isfinite(r->predicted.abv))
        wf_text_add(
            line, ", alcohol %s",
            wf_quantity_print(WF_DIM_SHARE, r->predicted.abv, g->s->units, text, sizeof text));
    wf_text_add(line, ": ");
}

static void add_recipes(const struct page *g)
{
    wf_text_add(g->out, "\n");
    for (size_t b = 0; b < g->p->beer_count; b++) {
        const struct wf_recipe *r = g->p->beers[b].recipe;
        struct wf_text line = {0};
        char label[24];
        if (r == NULL)
            continue;
        wf_snprintf(label, sizeof label, "%2zu", b + 1);
        add_figures(g, &line, r);
        wf_short_recipe(&line, r, g->s->units);
        g->out->failed = g->out->failed || line.failed;
        if (line.data != NULL)
            wf_style_labelled(g->out, g->s, WF_MARK_NONE, label, strlen(label), line.data);
        wf_text_free(&line);
    }
}

/* ---- None ------------------------------------------------------------------------------------ */

static void add_lacks(const struct page *g)
{
    static const struct wf_column columns[] = {{.title = "A plan would need", .most = 44},
                                               {.title = "more", .right = true}};
    struct wf_table t = {.columns = columns, .column_count = WF_COUNT_OF(columns)};
    if (g->p->lack_count == 0)
        return;
    wf_table_titles(&t);
    for (size_t i = 0; i < g->p->lack_count; i++) {
        const struct wf_plan_lack *k = &g->p->lacks[i];
        wf_table_cell(&t, "%s", k->name);
        amount_cell(&t, k->kind, k->amount, g->s->units);
    }
    wf_text_add(g->out, "\n");
    wf_table_write(&t, g->s, 0, g->out);
    wf_text_add(g->out, "This is the least lack that was found, by about what it would cost.\n");
}

/* ---- The whole ------------------------------------------------------------------------------- */

enum wf_status wf_report_plan_text(const struct wf_plan *p, const struct wf_report_style *s,
                                   char **out, struct wf_error *e)
{
    struct wf_text text = {0};
    const struct page g = {&text, p, s};
    add_beers(&g);
    if (p->status == WF_RECIPE_NONE) {
        add_lacks(&g);
        return wf_text_hand_over(&text, out, e);
    }
    add_all_lots(&g);
    add_bought(&g);
    add_sums(&g);
    add_proofs(&g);
    add_recipes(&g);
    return wf_text_hand_over(&text, out, e);
}
