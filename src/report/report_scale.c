/* report_scale.c: a scaled recipe, and what is not in the glass as it was. */
#include "wortfit/report.h"

#include "base/try.h"
#include "report/basis.h"
#include "report/glass.h"
#include "report/table.h"
#include "wortfit/solve.h" /* wf_text_release */

#include <string.h>

/* Stock is the only wish of a scaled recipe that is a weight. */
static bool is_short(const struct wf_wish_result *w)
{
    return !w->met && w->dimension == WF_DIM_MASS;
}

static void add_shortages(struct wf_text *out, const struct wf_recipe *r,
                          const struct wf_report_style *s)
{
    static const struct wf_column columns[] = {{.title = "Too little", .most = 44},
                                               {.title = "there is", .right = true},
                                               {.title = "to buy", .right = true}};
    struct wf_table t = {.columns = columns, .column_count = WF_COUNT_OF(columns)};
    size_t count = 0;
    for (size_t i = 0; i < r->wish_count; i++) {
        const struct wf_wish_result *w = &r->wishes[i];
        if (!is_short(w))
            continue;
        if (count++ == 0)
            wf_table_titles(&t);
        wf_table_cell(&t, "%s", w->wish);
        wf_table_figure(&t, WF_DIM_MASS, w->wanted.high, s->units);
        wf_table_figure(&t, WF_DIM_MASS, w->missed_by, s->units);
    }
    if (count == 0)
        return;
    wf_text_add(out, "\n");
    wf_table_write(&t, s, 0, out);
}

enum wf_status wf_report_scale_text(const struct wf_comparison *c, const struct wf_report_style *s,
                                    char **out, struct wf_error *e)
{
    struct wf_recipe plain = *c->recipe[1];
    struct wf_text text = {0};
    char *recipe = NULL, before[32], after[32];
    const char *title[2] = {before, after};
    wf_quantity_print(WF_DIM_VOLUME, c->recipe[0]->kettle.batch_l, s->units, before, sizeof before);
    wf_quantity_print(WF_DIM_VOLUME, c->recipe[1]->kettle.batch_l, s->units, after, sizeof after);
    if (wf_glass_same_batch(c)) {
        title[0] = "before";
        title[1] = "after";
    }
    plain.wish_count = 0; /* the tables below say more than its wishes */
    WF_TRY(wf_report_recipe_text(&plain, s, &recipe, e));
    wf_text_append(&text, recipe, strlen(recipe));
    wf_text_release(recipe);
    wf_basis_add(&text, &plain, s);
    wf_glass_figures(&text, c, title, s);
    wf_glass_grist(&text, c, title, s);
    wf_glass_hops(&text, c, title, s);
    add_shortages(&text, c->recipe[1], s);
    return wf_text_hand_over(&text, out, e);
}
