/* report_wishes.c: what was wished and what the recipe gives. */
#include "report/report_parts.h"

#include "base/number.h"
#include "base/try.h"
#include "report/table.h"

#include <math.h>
#include <string.h>

static const struct wf_column columns[] = {
    {.title = "Wish", .most = 36},
    {.title = "wanted"},
    {.title = "got"},
    {.title = ""},
};

#define NEAR_OF_WIDTH 0.05 /* of a range's width */
#define NEAR_OF_END   0.02 /* of the end itself, where there is but one */
#define SAME          1e-9

/* How near to its end a figure must be to have little room left. */
static double near_to(double end, const struct wf_wish_result *w)
{
    if (isfinite(w->wanted.low) && isfinite(w->wanted.high))
        return NEAR_OF_WIDTH * (w->wanted.high - w->wanted.low);
    return NEAR_OF_END * fabs(w->dimension == WF_DIM_GRAVITY ? end - 1 : end);
}

/* Where a wish that is met has little room left, which is what limits the recipe; "" elsewhere. */
static const char *tight_end(const struct wf_wish_result *w)
{
    double low = w->wanted.low, high = w->wanted.high;
    bool at_end = fabs(w->got - low) < SAME || fabs(w->got - high) < SAME;
    if (at_end && (isinf(low) || isinf(high)))
        return ""; /* all of it, or one of a few scores: there is no room to speak of */
    if (isfinite(low) && w->got - low <= near_to(low, w))
        return ", at the low end";
    return isfinite(high) && high - w->got <= near_to(high, w) ? ", at the high end" : "";
}

char *wf_part_missed(const struct wf_wish_result *w, enum wf_units units, char *buffer, size_t size)
{
    char by[64];
    wf_style_figure(w->dimension, w->missed_by, units, by, sizeof by);
    if (isnan(w->missed_by))
        wf_snprintf(buffer, size, "not known");
    else if (strpbrk(by, "123456789"))
        wf_snprintf(buffer, size, "missed by %s", by);
    else
        wf_snprintf(buffer, size, "just missed");
    return buffer;
}

static void add_wish(struct wf_table *t, const struct wf_wish_result *w, enum wf_units units)
{
    char text[64];
    wf_table_cell(t, "%s", w->wish);
    wf_table_cell(t, "%s", wf_style_range(w->dimension, w->wanted, units, text, sizeof text));
    wf_table_figure(t, w->dimension, w->got, units);
    if (w->met) {
        wf_table_cell(t, "met%s", tight_end(w));
        wf_table_mark(t, WF_MARK_GOOD);
    } else {
        wf_table_cell(t, "%s", wf_part_missed(w, units, text, sizeof text));
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
    wf_part_missed_wishes(out, r, s);
}

void wf_part_missed_wishes(struct wf_text *out, const struct wf_recipe *r,
                           const struct wf_report_style *s)
{
    add_table(out, r, s, true);
}
