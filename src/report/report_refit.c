/* report_refit.c: a recipe with its hops refitted, and what became of each addition. */
#include "wortfit/report.h"

#include "base/number.h"
#include "base/try.h"
#include "report/glass.h"
#include "report/table.h"
#include "wortfit/refit.h"
#include "wortfit/solve.h" /* wf_text_release */

#include <math.h>
#include <string.h>

#define ADDITION_MOST 28 /* code points */
#define CHANGE_MOST   24
#define SAME_GRAMS    1e-9
#define SAME_MINUTES  1e-6

/* "boil 60 min, Magnum" */
static const char *print_addition(const struct wf_recipe_hop *h, enum wf_units units, char *text,
                                  size_t size)
{
    static const char *const when[] = {[WF_HOP_FIRST_WORT] = "first wort",
                                       [WF_HOP_BOIL] = "boil",
                                       [WF_HOP_STAND] = "stand",
                                       [WF_HOP_DRY] = "dry"};
    bool timed = h->addition.use == WF_HOP_BOIL || h->addition.use == WF_HOP_STAND;
    char span[32] = "";
    if (timed)
        wf_quantity_print(WF_DIM_TIME, h->addition.minutes, units, span, sizeof span);
    wf_snprintf(text, size, "%s%s%s, %s", when[h->addition.use], timed ? " " : "", span, h->name);
    return text;
}

static void add_weight(struct wf_table *t, const struct wf_recipe_hop *h, enum wf_units units)
{
    wf_table_figure(t, WF_DIM_MASS, h != NULL ? h->grams / 1000 : (double)NAN, units);
}

static void add_ibu(struct wf_table *t, const struct wf_recipe_hop *h)
{
    if (h == NULL || h->addition.use == WF_HOP_DRY)
        wf_table_cell(t, "-");
    else
        wf_table_cell(t, "%.1f", h->ibu);
}

static bool same_place(const struct wf_recipe_hop *x, const struct wf_recipe_hop *y)
{
    return strcmp(x->id, y->id) == 0 && x->addition.use == y->addition.use &&
           fabs(x->addition.minutes - y->addition.minutes) < SAME_MINUTES;
}

/* What became of an addition. */
static void add_what(struct wf_table *t, const struct wf_recipe_hop *before,
                     const struct wf_recipe_hop *after, bool fixed, enum wf_units units)
{
    char text[WF_PLAIN_MOST];
    if (before == NULL || after == NULL) {
        wf_table_cell(t, after != NULL ? "new" : "left out");
    } else if (!same_place(before, after)) {
        wf_table_cell(t, "was %s", print_addition(before, units, text, sizeof text));
    } else if (fabs(before->grams - after->grams) < SAME_GRAMS) {
        wf_table_cell(t, fixed ? "kept" : "as it was");
        return;
    } else {
        wf_table_cell(t, "%s",
                      wf_glass_difference(WF_DIM_MASS, before->grams / 1000, after->grams / 1000,
                                          units, text, sizeof text));
    }
    wf_table_mark(t, WF_MARK_STRONG);
}

static void add_line(struct wf_table *t, const struct wf_recipe *from, const struct wf_refit *f,
                     size_t i, enum wf_units units)
{
    const struct wf_refit_line *l = &f->lines[i];
    const struct wf_recipe_hop *before = l->before != WF_NO_LINE ? &from->hops[l->before] : NULL;
    const struct wf_recipe_hop *after = l->after != WF_NO_LINE ? &f->recipe->hops[l->after] : NULL;
    char text[WF_PLAIN_MOST];
    if (before == NULL && after == NULL)
        return; /* a place of the schedule that nothing is needed in */
    wf_table_cell(t, "%s",
                  print_addition(after != NULL ? after : before, units, text, sizeof text));
    add_weight(t, before, units);
    add_weight(t, after, units);
    add_ibu(t, before);
    add_ibu(t, after);
    add_what(t, before, after, l->fixed, units);
}

static void add_table(struct wf_text *out, const struct wf_recipe *from, const struct wf_refit *f,
                      const struct wf_report_style *s)
{
    static const struct wf_column columns[] = {{.title = "What changes", .most = ADDITION_MOST},
                                               {.title = "before", .right = true},
                                               {.title = "now", .right = true},
                                               {.title = "IBU before", .right = true},
                                               {.title = "now", .right = true},
                                               {.title = "", .most = CHANGE_MOST}};
    struct wf_table t = {.columns = columns, .column_count = WF_COUNT_OF(columns)};
    wf_table_titles(&t);
    for (size_t i = 0; i < f->line_count; i++)
        add_line(&t, from, f, i, s->units);
    wf_table_cell(&t, "in all");
    wf_table_cell(&t, "%s", "");
    wf_table_cell(&t, "%s", "");
    wf_table_cell(&t, "%.1f", from->predicted.ibu);
    wf_table_cell(&t, "%.1f", f->recipe->predicted.ibu);
    wf_table_cell(&t, "%s", "");
    wf_text_add(out, "\n");
    wf_table_write(&t, s, 0, out);
}

static void add_story(struct wf_text *out, const struct wf_recipe *from, const struct wf_refit *f)
{
    if (fabs(f->untouched_ibu - from->predicted.ibu) > 0.05)
        wf_text_add(out, "With the alpha acid of now and nothing changed: %.1f IBU.\n",
                    f->untouched_ibu);
    if (f->changed == 0)
        wf_text_add(out, "Nothing has to be changed.\n");
}

enum wf_status wf_report_refit_text(const struct wf_recipe *from, const struct wf_refit *f,
                                    const struct wf_report_style *s, char **out, struct wf_error *e)
{
    struct wf_text text = {0};
    char *recipe = NULL;
    WF_TRY(wf_report_recipe_text(f->recipe, s, &recipe, e));
    wf_text_append(&text, recipe, strlen(recipe));
    wf_text_release(recipe);
    add_table(&text, from, f, s);
    add_story(&text, from, f);
    return wf_text_hand_over(&text, out, e);
}
