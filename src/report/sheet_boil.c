/* sheet_boil.c: the kettle: readings before, the clock, the stand, readings after. */
#include "report/sheet.h"

#include "base/try.h"

#include <math.h>

#define NAME_MOST 34

static bool in_kettle(const struct wf_brewday_addition *a)
{
    return a->what != WF_ADD_HOP || a->use == WF_HOP_FIRST_WORT || a->use == WF_HOP_BOIL;
}

static bool boils_hops(const struct wf_brewday_addition *a)
{
    return a->what == WF_ADD_HOP && (a->use == WF_HOP_FIRST_WORT || a->use == WF_HOP_BOIL);
}

/* Minutes since the boil began. */
static void add_clock(struct wf_table *t, const struct wf_brewday_addition *a)
{
    if (a->what == WF_ADD_EXTRACT || (a->what == WF_ADD_HOP && a->use == WF_HOP_FIRST_WORT))
        wf_table_cell(t, "before");
    else
        wf_table_cell(t, "%.4g", a->clock);
}

static void add_row(struct wf_sheet *s, struct wf_table *t, const struct wf_brewday_addition *a)
{
    wf_table_cell(t, "[ ]");
    add_clock(t, a);
    wf_table_cell(t, "%.4g", a->to_go);
    wf_table_figure(t, WF_DIM_MASS, a->kg, s->style->units);
    wf_table_cell(t, "%s%s", a->name, a->whole ? " (whole)" : "");
    if (isnan(a->ibu))
        wf_table_cell(t, "-");
    else
        wf_table_cell(t, "%.1f", a->ibu);
}

static size_t count_of(const struct wf_brewday *d, bool (*is)(const struct wf_brewday_addition *))
{
    size_t count = 0;
    for (size_t i = 0; i < d->addition_count; i++)
        count += is(&d->additions[i]);
    return count;
}

static void add_additions(struct wf_sheet *s)
{
    static const struct wf_column columns[] = {{.title = ""},
                                               {.title = "min", .right = true},
                                               {.title = "to go", .right = true},
                                               {.title = "weight", .right = true},
                                               {.title = "into the kettle", .most = NAME_MOST},
                                               {.title = "IBU", .right = true}};
    struct wf_column room[WF_COLUMNS_MOST];
    const struct wf_brewday *d = s->day;
    if (count_of(d, in_kettle) == 0) {
        wf_sheet_line(s, WF_LINE_PLAIN, "Nothing is added during the boil.");
        return;
    }
    struct wf_table t = wf_sheet_table(s, columns, WF_COUNT_OF(columns), room);
    for (size_t i = 0; i < d->addition_count; i++)
        if (in_kettle(&d->additions[i]))
            add_row(s, &t, &d->additions[i]);
    wf_sheet_line(s, WF_LINE_PLAIN, "By the clock, in minutes since the boil began:");
    wf_sheet_add_table(s, &t, "The boil by the clock");
}

static bool stands(const struct wf_brewday_addition *a)
{
    return a->what == WF_ADD_HOP && a->use == WF_HOP_STAND;
}

static void add_stand(struct wf_sheet *s)
{
    const struct wf_brewday *d = s->day;
    if (count_of(d, stands) == 0)
        return;
    wf_sheet_section(s, "Stand");
    for (size_t i = 0; i < d->addition_count; i++) {
        const struct wf_brewday_addition *a = &d->additions[i];
        if (stands(a))
            wf_sheet_line(s, WF_LINE_TICK, "At %s: %s of %s, for %s, then cool (%s)",
                          wf_sheet_figure(s, WF_DIM_TEMPERATURE, a->celsius),
                          wf_sheet_figure(s, WF_DIM_MASS, a->kg), a->name,
                          wf_sheet_figure(s, WF_DIM_TIME, a->to_go),
                          wf_sheet_figure(s, WF_DIM_BITTERNESS, a->ibu));
    }
    wf_sheet_line(s, WF_LINE_PLAIN,
                  "Cool the wort to that temperature first, cover it, and stir gently. What was "
                  "boiled goes on giving bitterness meanwhile: that is counted.");
}

static void add_fire(struct wf_sheet *s)
{
    const struct wf_brewday *d = s->day;
    if (d->boil_minutes > 0)
        wf_sheet_line(
            s, WF_LINE_TICK, "Boil for %s%s", wf_sheet_figure(s, WF_DIM_TIME, d->boil_minutes),
            d->evaporation_l_h > 0 ? ", lid off" : "; no loss is reckoned, as under a lid");
    else
        wf_sheet_line(s, WF_LINE_TICK, "No boil: only heat the wort until it bubbles");
    if (d->boiling_celsius < 99)
        wf_sheet_line(
            s, WF_LINE_PLAIN,
            "At %s it boils at %s. Bitterness is reckoned as at sea level; one source (M. "
            "Garetz, Using Hops) would have it about %.0f %% less here.",
            wf_sheet_figure(s, WF_DIM_HEIGHT, d->altitude_m),
            wf_sheet_figure(s, WF_DIM_TEMPERATURE, d->boiling_celsius), 100 * d->bitterness_less);
}

static void add_boil(struct wf_sheet *s)
{
    const struct wf_brewday *d = s->day;
    add_fire(s);
    wf_sheet_draw(s, WF_DRAW_BOIL);
    add_additions(s);
    wf_sheet_draw(s, WF_DRAW_BITTERNESS);
    wf_sheet_line(s, WF_LINE_CAUTION,
                  "Wort boils over without warning as it comes to the boil and at each addition "
                  "of hops or sugar: stay by it, leave room over the hot %s, turn the heat down "
                  "before you add. Steam burns and wets a room: open a window. Never lift or tip a "
                  "kettle of hot wort: drain it.",
                  wf_sheet_about(s, WF_DIM_VOLUME, d->water.before_hot_l));
    wf_sheet_measure(s, WF_MEASURE_AFTER);
    wf_sheet_measure(s, WF_MEASURE_AFTER_L);
}

/* Which of the tables is right depends on both readings. */
static void add_together(struct wf_sheet *s)
{
    const struct wf_hundredth *h = &s->day->hundredth;
    bool us = s->style->units == WF_UNITS_US;
    if (isnan(h->points_l))
        return;
    wf_sheet_line(s, WF_LINE_PLAIN,
                  "Take both readings before you mend either, and multiply gravity points by %s: "
                  "%.0f is right. Then all the extract is there, and the volume's table holds. "
                  "Where the volume is right, the gravity's holds. Else, for each hundredth too "
                  "little: %s of light dry malt extract, or %s less beer; too much: %s of water, "
                  "and more beer.",
                  us ? "gallons" : "litres", h->points_l / (us ? WF_L_PER_US_GAL : 1),
                  wf_sheet_about(s, WF_DIM_MASS, h->extract_kg),
                  wf_sheet_about(s, WF_DIM_VOLUME, h->litres),
                  wf_sheet_about(s, WF_DIM_VOLUME, h->litres));
}

void wf_sheet_boil(struct wf_sheet *s)
{
    wf_sheet_section(s, "Boil");
    wf_sheet_vessel(s, WF_VESSEL_KETTLE);
    add_together(s);
    wf_sheet_measure(s, WF_MEASURE_BEFORE);
    wf_sheet_measure(s, WF_MEASURE_BEFORE_L);
    if (count_of(s->day, boils_hops) > 0)
        wf_sheet_line(
            s, WF_LINE_SMALL,
            "What is boiled longer is boiled before the clock starts, so that the hops keep "
            "their times; after the boil it makes the beer a little more bitter.");
    add_boil(s);
    add_stand(s);
}
