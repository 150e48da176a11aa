/* report_choices.c: several recipes, as text and as JSON: see alternatives.schema.json and
 * trade.schema.json beside this file. */
#include "wortfit/report.h"

#include "base/number.h"
#include "base/try.h"
#include "report/report_in_short.h"
#include "report/report_parts.h"
#include "report/table.h"

#include <math.h>
#include <string.h>

/* As a search stops at it; by the last bit it may be over. */
#define PROVED_GAP (0.0001 * (1 + 1e-9))

static bool is_proved(const struct wf_recipe *r)
{
    return r->proof_count > 0 && r->proofs[0].gap <= PROVED_GAP;
}

/* "proved", or how far from the best it may be. */
static void add_how_good(struct wf_text *out, const struct wf_recipe *r)
{
    double percent = r->proof_count > 0 ? 100 * r->proofs[0].gap : (double)NAN;
    if (is_proved(r))
        wf_text_add(out, "proved");
    else if (isfinite(percent) && percent <= 100)
        wf_text_add(out, "within %.2g %% of the best", percent);
    else
        wf_text_add(out, "not proved");
}

static void add_block(struct wf_text *out, const struct wf_report_style *s, const char *label,
                      struct wf_text *value)
{
    out->failed = out->failed || value->failed;
    if (value->data != NULL)
        wf_style_labelled(out, s, WF_MARK_NONE, label, strlen(label), value->data);
    wf_text_free(value);
}

static void add_in_short(struct wf_text *out, const struct wf_report_style *s, size_t number,
                         const struct wf_recipe *r)
{
    struct wf_text recipe = {0};
    char label[32];
    wf_snprintf(label, sizeof label, "%2zu", number);
    wf_short_recipe(&recipe, r, s->units);
    add_block(out, s, label, &recipe);
}

/* ---- Alternatives: text ---------------------------------------------------------------------- */

/* How a goal's values stand in the list. */
static const struct {
    const char *title;
    int decimals;
} value_row[] = {
    [WF_GOAL_COST] = {"cost", 2},        [WF_GOAL_FEWEST] = {"number", 0},
    [WF_GOAL_CLOSEST] = {"distance", 2}, [WF_GOAL_USE_UP] = {"kg fresh", 2},
    [WF_GOAL_CHANGE] = {"change", 1},
};
_Static_assert(WF_COUNT_OF(value_row) == WF_GOAL_COUNT, "one row a goal");

static enum wf_goal goal_of(const struct wf_recipe *r)
{
    int g = 0;
    while (g + 1 < WF_GOAL_COUNT && strcmp(r->proofs[0].goal, wf_goal_word((enum wf_goal)g)) != 0)
        g++;
    return (enum wf_goal)g;
}

/* Its number, its value, how much worse it is than the first, and by what it differs. */
static void add_choice(struct wf_text *out, const struct wf_report_style *s,
                       const struct wf_alternatives *a, size_t i)
{
    const struct wf_recipe *r = a->list[i].recipe, *first = a->list[0].recipe;
    double value = r->proofs[0].value, more = value - first->proofs[0].value;
    struct wf_text apart = {0};
    char label[64];
    int decimals = value_row[goal_of(r)].decimals;
    if (i > 0)
        wf_snprintf(label, sizeof label, "%2zu  %8.*f  %+7.*f", i + 1, decimals, value, decimals,
                    more);
    else
        wf_snprintf(label, sizeof label, "%2zu  %8.*f  %7s", i + 1, decimals, value, "");
    wf_text_add(&apart, "%s", i == 0 ? "as above" : "");
    wf_short_changes(&apart, &a->list[i], s->units);
    if (i > 0 && goal_of(r) != WF_GOAL_COST) {
        wf_text_add(&apart, "; ");
        wf_short_difference(&apart, r->cost - first->cost, first->currency);
    }
    if (!is_proved(r)) {
        wf_text_add(&apart, "; ");
        add_how_good(&apart, r);
    }
    add_block(out, s, label, &apart);
}

static void add_how_many(struct wf_text *out, const struct wf_report_style *s,
                         const struct wf_alternatives *a)
{
    size_t proved = 0;
    for (size_t i = 0; i < a->count; i++)
        proved += is_proved(a->list[i].recipe);
    wf_text_add(out, "\n");
    if (a->count > 1 && proved == a->count)
        wf_text_add(out, "proved: each is the best of all recipes that differ from those above "
                         "it\n");
    if (!a->complete)
        wf_style_line(out, s, WF_MARK_BAD,
                      proved == a->count
                          ? "there may be more: give it more time with --time"
                          : "there may be better ones, and more: give it more time with --time");
    else if (a->count < a->wanted)
        wf_text_add(out, "proved: no other recipe that meets these wishes differs\n");
}

static void add_list(struct wf_text *out, const struct wf_report_style *s,
                     const struct wf_alternatives *a)
{
    enum wf_goal goal = goal_of(a->list[0].recipe);
    wf_text_add(out,
                "\n%sAlternatives%s, by %s\n"
                "each differs from those above it by a malt or hop that a drinker would notice\n",
                wf_style_on(s, WF_MARK_STRONG), wf_style_off(s, WF_MARK_STRONG),
                wf_goal_text(goal));
    wf_text_add(out, "    %8s  %7s  against the first\n", value_row[goal].title, "more");
    for (size_t i = 0; i < a->count; i++)
        add_choice(out, s, a, i);
    wf_text_add(out, "\n");
    for (size_t i = 1; i < a->count; i++)
        add_in_short(out, s, i + 1, a->list[i].recipe);
    add_how_many(out, s, a);
}

enum wf_status wf_report_alternatives_text(const struct wf_alternatives *a,
                                           const struct wf_report_style *s, char **out,
                                           struct wf_error *e)
{
    struct wf_text text = {0};
    char *first = NULL;
    WF_TRY(wf_report_recipe_text(a->list[0].recipe, s, &first, e));
    wf_text_append(&text, first, strlen(first));
    wf_text_release(first);
    if (a->list[0].recipe->status != WF_RECIPE_NONE)
        add_list(&text, s, a);
    return wf_text_hand_over(&text, out, e);
}

/* ---- Alternatives: JSON ---------------------------------------------------------------------- */

static void put_apart(struct wf_json_put *j, const struct wf_alternatives *a, size_t i)
{
    const struct wf_recipe *first = a->list[0].recipe;
    struct wf_text apart = {0};
    wf_short_changes(&apart, &a->list[i], WF_UNITS_METRIC);
    wf_text_add(&apart, "; ");
    wf_short_difference(&apart, a->list[i].recipe->cost - first->cost, first->currency);
    j->out->failed = j->out->failed || apart.failed;
    wf_put_string(j, "apart", apart.data);
    wf_text_free(&apart);
}

enum wf_status wf_report_alternatives_json(const struct wf_alternatives *a, char **out,
                                           struct wf_error *e)
{
    struct wf_text text = {0};
    struct wf_json_put j = {.out = &text};
    wf_put_open(&j, NULL, '{', false);
    wf_put_open(&j, "recipes", '[', false);
    for (size_t i = 0; i < a->count; i++) {
        wf_put_open(&j, NULL, '{', false);
        wf_put_recipe(&j, a->list[i].recipe);
        if (i > 0)
            put_apart(&j, a, i);
        wf_put_close(&j, '}');
    }
    wf_put_close(&j, ']');
    wf_put_bool(&j, "complete", a->complete);
    wf_put_close(&j, '}');
    return wf_text_hand_over(&text, out, e);
}

/* ---- Trade ----------------------------------------------------------------------------------- */

static void add_points(struct wf_text *out, const struct wf_report_style *s,
                       const struct wf_trade *t)
{
    static const struct wf_column columns[] = {{.title = "Ingredients", .right = true},
                                               {.title = "cost", .right = true},
                                               {.title = "saves", .right = true},
                                               {.title = "how good"}};
    struct wf_table table = {.columns = columns, .column_count = WF_COUNT_OF(columns)};
    wf_table_titles(&table);
    for (size_t i = 0; i < t->count; i++) {
        const struct wf_trade_point *p = &t->points[i];
        struct wf_text good = {0};
        wf_table_cell(&table, "%zu", p->ingredients);
        wf_table_cell(&table, "%.2f", p->cost);
        if (i > 0)
            wf_table_cell(&table, "%.2f", t->points[i - 1].cost - p->cost);
        else
            wf_table_cell(&table, "%s", "");
        add_how_good(&good, p->recipe);
        wf_table_cell(&table, "%s", good.data != NULL ? good.data : "");
        out->failed = out->failed || good.failed;
        wf_text_free(&good);
    }
    wf_table_write(&table, s, 0, out);
}

static void add_trade(struct wf_text *out, const struct wf_report_style *s,
                      const struct wf_trade *t)
{
    const struct wf_recipe *last = t->points[t->count - 1].recipe;
    char text[64];
    wf_text_add(out, "%s", wf_style_on(s, WF_MARK_STRONG));
    wf_plain_add(out, last->name);
    wf_text_add(out, ", %s%s: the least cost",
                wf_quantity_print(WF_DIM_VOLUME, last->kettle.batch_l, s->units, text, sizeof text),
                wf_style_off(s, WF_MARK_STRONG));
    if (last->currency && *last->currency) {
        wf_text_add(out, " in ");
        wf_plain_add(out, last->currency);
    }
    wf_text_add(out, " for each number of ingredients\n\n");
    add_points(out, s, t);
    wf_text_add(out, "\n");
    for (size_t i = 0; i < t->count; i++)
        add_in_short(out, s, t->points[i].ingredients, t->points[i].recipe);
    if (last->price_note && *last->price_note) {
        wf_text_add(out, "\nPrices: ");
        wf_plain_add(out, last->price_note);
        wf_text_add(out, "\n");
    }
}

static void add_end(struct wf_text *out, const struct wf_report_style *s, const struct wf_trade *t)
{
    bool proved = t->complete;
    for (size_t i = 0; i < t->count; i++)
        proved = proved && is_proved(t->points[i].recipe);
    if (proved)
        wf_text_add(out,
                    "\nproved: no recipe that meets these wishes has fewer ingredients, or "
                    "costs less\nwith as many; more than %zu save nothing\n",
                    t->points[t->count - 1].ingredients);
    else if (!t->complete)
        wf_style_line(out, s, WF_MARK_BAD,
                      "\nthere may be more points: give it more time with --time");
}

enum wf_status wf_report_trade_text(const struct wf_trade *t, const struct wf_report_style *s,
                                    char **out, struct wf_error *e)
{
    struct wf_text text = {0};
    if (t->count > 0) {
        add_trade(&text, s, t);
        add_end(&text, s, t);
    }
    return wf_text_hand_over(&text, out, e);
}

enum wf_status wf_report_trade_json(const struct wf_trade *t, char **out, struct wf_error *e)
{
    struct wf_text text = {0};
    struct wf_json_put j = {.out = &text};
    wf_put_open(&j, NULL, '{', false);
    wf_put_open(&j, "trade", '[', false);
    for (size_t i = 0; i < t->count; i++) {
        const struct wf_trade_point *p = &t->points[i];
        wf_put_open(&j, NULL, '{', false);
        wf_put_count(&j, "ingredients", p->ingredients);
        wf_put_number(&j, "cost", round(p->cost * 1e9) / 1e9);
        wf_put_number(&j, "bound", p->bound);
        wf_put_open(&j, "recipe", '{', false);
        wf_put_recipe(&j, p->recipe);
        wf_put_close(&j, '}');
        wf_put_close(&j, '}');
    }
    wf_put_close(&j, ']');
    wf_put_bool(&j, "complete", t->complete);
    wf_put_close(&j, '}');
    return wf_text_hand_over(&text, out, e);
}
