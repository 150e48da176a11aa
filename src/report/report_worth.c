/* report_worth.c: what a recipe leans on, for people and for programs. */
#include "report/report_parts.h"

#include "base/number.h"
#include "base/try.h"
#include "pantry/words.h"
#include "report/table.h"
#include "wortfit/worth.h"

#include <math.h>
#include <string.h>

#define NAME_MOST 40  /* code points of what is leaned on */
#define SURE      0.1 /* of a saving: what it is known to, where one figure will do for it */

/* ---- Text ------------------------------------------------------------------------------------ */

/* One end of a wish alone: ">= 1.054". */
static void add_end(struct wf_table *t, const struct wf_lean *lean, double end, enum wf_units units)
{
    char text[64];
    struct wf_range r = {lean->high ? -(double)INFINITY : end, lean->high ? end : (double)INFINITY,
                         NAN};
    wf_table_cell(t, "%s", wf_style_range(lean->dimension, r, units, text, sizeof text));
}

static void add_wish(struct wf_table *t, const struct wf_lean *lean, enum wf_units units)
{
    wf_table_cell(t, "%s", lean->what);
    add_end(t, lean, lean->from, units);
    add_end(t, lean, lean->to, units);
}

static void add_share(struct wf_table *t, const struct wf_lean *lean, enum wf_units units)
{
    wf_table_cell(t, "greatest share of %s", lean->what);
    add_end(t, lean, lean->from, units);
    add_end(t, lean, lean->to, units);
}

static void add_stock(struct wf_table *t, const struct wf_lean *lean, enum wf_units units)
{
    wf_table_cell(t, "stock of %s", lean->what);
    wf_table_figure(t, WF_DIM_MASS, lean->from, units);
    wf_table_figure(t, WF_DIM_MASS, lean->to, units);
}

static void add_shop(struct wf_table *t, const struct wf_lean *lean, enum wf_units units)
{
    char text[64];
    wf_table_cell(t, "%s", lean->what);
    wf_table_cell(t, "not in store");
    if (isnan(lean->price))
        wf_table_cell(t, "bought");
    else
        wf_table_cell(t, "at %s",
                      wf_quantity_print(WF_DIM_PRICE, lean->price, units, text, sizeof text));
}

static void add_saving(struct wf_table *t, const struct wf_recipe *r, const struct wf_lean *lean)
{
    enum wf_goal goal = r->worth->goal;
    const char *unit = goal == WF_GOAL_COST && r->currency ? r->currency : "";
    int decimals = goal == WF_GOAL_FEWEST ? 0 : 2;
    if (lean->most - lean->least > SURE * lean->saves && goal != WF_GOAL_FEWEST)
        wf_table_cell(t, "%.*f..%.*f%s%s", decimals, lean->least, decimals, lean->most,
                      *unit ? " " : "", unit);
    else
        wf_table_cell(t, "%.*f%s%s", decimals, lean->saves, *unit ? " " : "", unit);
}

static void add_table(struct wf_text *out, const struct wf_recipe *r,
                      const struct wf_report_style *s)
{
    static const struct wf_column columns[] = {
        {.title = "Leans on", .most = NAME_MOST},
        {.title = "now"},
        {.title = "if it were"},
        {.title = "saves", .right = true},
    };
    static void (*const add[WF_LEAN_KIND_COUNT])(struct wf_table *, const struct wf_lean *,
                                                 enum wf_units) = {
        [WF_LEAN_WISH] = add_wish,
        [WF_LEAN_SHARE] = add_share,
        [WF_LEAN_STOCK] = add_stock,
        [WF_LEAN_SHOP] = add_shop,
    };
    struct wf_table t = {.columns = columns, .column_count = WF_COUNT_OF(columns)};
    wf_table_titles(&t);
    for (size_t i = 0; i < r->worth->lean_count; i++) {
        const struct wf_lean *lean = &r->worth->leans[i];
        add[lean->kind](&t, lean, s->units);
        add_saving(&t, r, lean);
    }
    wf_table_write(&t, s, 0, out);
}

static bool shop_saves(const struct wf_worth *w)
{
    for (size_t i = 0; i < w->lean_count; i++)
        if (w->leans[i].kind == WF_LEAN_SHOP)
            return true;
    return false;
}

void wf_part_worth(struct wf_text *out, const struct wf_recipe *r, const struct wf_report_style *s)
{
    const struct wf_worth *w = r->worth;
    if (w == NULL)
        return;
    wf_text_add(out, "\n");
    if (w->lean_count > 0)
        add_table(out, r, s);
    wf_text_add(out, "%s\n",
                w->lean_count > 0
                    ? "Any other wish or lot, a notch easier, saves nothing that can be told."
                    : "No wish or lot, a notch easier, saves anything that can be told.");
    if (w->untried > 0)
        wf_text_add(out, "There was no time to look at %zu more: give more with --time.\n",
                    w->untried);
    if (shop_saves(w) && w->shop_note != NULL) {
        wf_text_add(out, "Prices of what the store has not: ");
        wf_plain_add(out, w->shop_note);
        wf_text_add(out, "\n");
    }
}

/* ---- JSON ------------------------------------------------------------------------------------ */

static void put_clean(struct wf_json_put *j, const char *key, double value)
{
    wf_put_number(j, key, round(value * 1e9) / 1e9);
}

static void put_lean(struct wf_json_put *j, const struct wf_lean *lean)
{
    wf_put_open(j, NULL, '{', true);
    wf_put_string(j, "of", wf_lean_word(lean->kind));
    wf_put_string(j, "what", lean->what);
    wf_put_string(j, "id", lean->id);
    wf_put_string(j, "kind", wf_dimension_words[lean->dimension]);
    if (lean->kind == WF_LEAN_WISH)
        wf_put_string(j, "end", lean->high ? "high" : "low");
    put_clean(j, "from", lean->from);
    put_clean(j, "to", lean->to);
    put_clean(j, "price", lean->price);
    put_clean(j, "saves", lean->saves);
    put_clean(j, "saves_least", lean->least);
    put_clean(j, "saves_most", lean->most);
    wf_put_close(j, '}');
}

void wf_put_leans(struct wf_json_put *j, const struct wf_recipe *r)
{
    if (r->worth == NULL)
        return;
    wf_put_open(j, "leans", '[', false);
    for (size_t i = 0; i < r->worth->lean_count; i++)
        put_lean(j, &r->worth->leans[i]);
    wf_put_close(j, ']');
    if (r->worth->untried > 0)
        wf_put_count(j, "leans_untried", r->worth->untried);
}
