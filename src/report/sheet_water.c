/* sheet_water.c: how much water, and where it goes: a balance that adds up in print. */
#include "report/sheet.h"

#include "base/try.h"

static const struct wf_column columns[] = {
    {.title = "Water"}, {.title = "adds", .right = true}, {.title = "leaves", .right = true}};

static void add_row(struct wf_sheet *s, struct wf_table *t, const char *what, double adds,
                    double leaves)
{
    wf_table_cell(t, "%s", what);
    wf_table_cell(t, "%s%s",
                  adds < 0   ? "- "
                  : adds > 0 ? "+ "
                             : "",
                  adds == 0 ? "" : wf_sheet_figure(s, WF_DIM_VOLUME, adds < 0 ? -adds : adds));
    wf_table_cell(t, "%s", leaves < 0 ? "" : wf_sheet_figure(s, WF_DIM_VOLUME, leaves));
}

/* A row that is nothing is left out. */
static void add_part(struct wf_sheet *s, struct wf_table *t, const char *what, double adds)
{
    if (adds != 0)
        add_row(s, t, what, adds, -1);
}

static void add_balance(struct wf_sheet *s)
{
    const struct wf_brewday_water *w = &s->day->water;
    struct wf_column room[WF_COLUMNS_MOST];
    struct wf_table t = wf_sheet_table(s, columns, WF_COUNT_OF(columns), room);
    bool mash = s->day->mash.grain_kg > 0;
    add_part(s, &t, mash ? "mash, all rests" : "into the kettle", w->mash_l);
    add_part(s, &t, "sparge", w->sparge_l);
    add_part(s, &t, "the grains keep", -w->absorbed_l);
    add_part(s, &t, "dead space under the mash", -w->dead_l);
    add_part(s, &t, "extracts add", w->early_l);
    add_row(s, &t, "before the boil", 0, w->before_boil_l);
    add_part(s, &t, "the boil takes", -w->evaporated_l);
    add_part(s, &t, "sugars add", w->late_l);
    add_row(s, &t, "after the boil", 0, w->after_boil_l);
    add_part(s, &t, "left in the kettle", -w->kettle_loss_l);
    add_row(s, &t, "into the fermenter", 0, w->fermenter_l);
    add_part(s, &t, "left with the yeast", -w->fermenter_loss_l);
    add_part(s, &t, "dry hops soak up", -w->dry_hops_l);
    add_row(s, &t, "into bottles or keg", 0, w->packaged_l);
    wf_sheet_add_table(s, &t, "Where the water goes");
}

void wf_sheet_water(struct wf_sheet *s)
{
    const struct wf_brewday_water *w = &s->day->water;
    wf_sheet_section(s, "Water");
    wf_sheet_line(s, WF_LINE_TICK, "%s of water in all",
                  wf_sheet_figure(s, WF_DIM_VOLUME, w->mash_l + w->sparge_l));
    add_balance(s);
    wf_sheet_line(s, WF_LINE_PLAIN,
                  "Near boiling the kettle shows more: %s before the boil, %s after it. Cooling "
                  "takes the %s back, and no wort is lost by it.",
                  wf_sheet_about(s, WF_DIM_VOLUME, w->before_hot_l),
                  wf_sheet_about(s, WF_DIM_VOLUME, w->after_hot_l),
                  wf_sheet_about(s, WF_DIM_VOLUME, w->after_hot_l - w->after_boil_l));
}
