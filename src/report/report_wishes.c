/* report_wishes.c: what was wished and what the recipe gives. */
#include "report/report_parts.h"

#include "base/try.h"
#include "report/table.h"

static const struct wf_column columns[] = {
    {.title = "Wish", .most = 36},
    {.title = "wanted"},
    {.title = "got"},
    {.title = ""},
};

static void add_wish(struct wf_table *t, const struct wf_wish_result *w, enum wf_units units)
{
    char text[64];
    wf_table_cell(t, "%s", w->wish);
    wf_table_cell(t, "%s", wf_range_print(w->dimension, w->wanted, units, text, sizeof text));
    wf_table_figure(t, w->dimension, w->got, units);
    if (w->met) {
        wf_table_cell(t, "met");
        wf_table_mark(t, WF_MARK_GOOD);
    } else {
        wf_table_cell(t, "missed by %s",
                      wf_quantity_print(w->dimension, w->missed_by, units, text, sizeof text));
        wf_table_mark(t, WF_MARK_BAD);
    }
}

static void add_table(struct wf_text *out, const struct wf_recipe *r,
                      const struct wf_report_style *s, bool missed_only)
{
    struct wf_table t = {.columns = columns, .column_count = WF_COUNT_OF(columns)};
    wf_table_titles(&t);
    for (size_t i = 0; i < r->wish_count; i++)
        if (!missed_only || !r->wishes[i].met)
            add_wish(&t, &r->wishes[i], s->units);
    wf_table_write(&t, s, 0, out);
}

void wf_part_wishes(struct wf_text *out, const struct wf_recipe *r, const struct wf_report_style *s)
{
    if (r->wish_count == 0)
        return;
    wf_text_add(out, "\n");
    add_table(out, r, s, false);
}

void wf_part_misses(struct wf_text *out, const struct wf_recipe *r, const struct wf_report_style *s)
{
    wf_text_add(out, "\n");
    wf_style_line(out, s, WF_MARK_BAD, "No recipe meets all of these wishes. The nearest misses:");
    wf_text_add(out, "\n");
    add_table(out, r, s, true);
}
