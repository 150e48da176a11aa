/* sheet_mash.c: crush, strike, rests, run-off. */
#include "report/sheet.h"

#include "base/try.h"

#include <math.h>

#define SPARGE_C 76.0 /* hotter draws harshness from the husks: common practice */

static void add_rests(struct wf_sheet *s)
{
    static const struct wf_column columns[] = {{.title = "Rest"},
                                               {.title = "at", .right = true},
                                               {.title = "for", .right = true},
                                               {.title = "add water", .right = true},
                                               {.title = "at", .right = true}};
    const struct wf_brewday_mash *m = &s->day->mash;
    struct wf_column room[WF_COLUMNS_MOST];
    struct wf_table t = wf_sheet_table(s, columns, WF_COUNT_OF(columns), room);
    for (size_t i = 0; i < m->rest_count; i++) {
        const struct wf_rest *rest = &m->rests[i];
        wf_table_cell(&t, "%s", rest->what);
        wf_table_figure(&t, WF_DIM_TEMPERATURE, rest->celsius, s->style->units);
        wf_table_figure(&t, WF_DIM_TIME, rest->minutes, s->style->units);
        wf_table_figure(&t, WF_DIM_VOLUME, rest->water_l, s->style->units);
        wf_table_figure(&t, WF_DIM_TEMPERATURE, rest->water_celsius, s->style->units);
    }
    wf_sheet_add_table(s, &t, "Rests of the mash");
}

static void add_why(struct wf_sheet *s)
{
    static const char *const word[] = {[WF_BODY_LIGHT] = "a light body",
                                       [WF_BODY_MEDIUM] = "a medium body",
                                       [WF_BODY_FULL] = "a full body"};
    const struct wf_brewday_mash *m = &s->day->mash;
    wf_sheet_line(s, WF_LINE_PLAIN,
                  "For %s (index %.1f). The final gravity is reckoned for a mash near %s: hotter "
                  "leaves a little more, cooler a little less.",
                  word[m->body], m->body_index, wf_sheet_figure(s, WF_DIM_TEMPERATURE, 67));
    if (m->weak)
        wf_sheet_line(s, WF_LINE_PLAIN,
                      "The grist has a diastatic power of %s, less than %s: rest longer, and go on "
                      "only once a drop of iodine stays brown.",
                      wf_sheet_figure(s, WF_DIM_DIASTATIC, s->day->recipe->predicted.lintner),
                      wf_sheet_figure(s, WF_DIM_DIASTATIC, WF_LINTNER_LEAST));
}

static void add_strength(struct wf_sheet *s)
{
    if (s->day->mash.too_strong)
        wf_sheet_line(s, WF_LINE_CAUTION,
                      "This mash cannot give it: even first runnings are weaker than the wort that "
                      "%.4g %% efficiency asks for. Take a lower efficiency, more grain, or boil "
                      "longer from more water.",
                      100 * s->day->recipe->kettle.efficiency);
}

static void add_strike(struct wf_sheet *s)
{
    const struct wf_brewday_mash *m = &s->day->mash;
    wf_sheet_line(s, WF_LINE_TICK, "Crush the grain: kernels in a few pieces, husks whole");
    wf_sheet_line(s, WF_LINE_TICK,
                  "Heat %s to %s, and stir in %s of grain that is at %s (%s in the end)",
                  wf_sheet_figure(s, WF_DIM_VOLUME, m->rests[0].water_l),
                  wf_sheet_figure(s, WF_DIM_TEMPERATURE, m->rests[0].water_celsius),
                  wf_sheet_figure(s, WF_DIM_MASS, m->grain_kg),
                  wf_sheet_figure(s, WF_DIM_TEMPERATURE, m->grain_celsius),
                  wf_sheet_figure(s, WF_DIM_SPECIFIC_VOLUME, m->liquor_l_kg));
    wf_sheet_line(s, WF_LINE_SMALL,
                  "The tun is taken as warmed beforehand: a cold one takes a degree or more.");
}

static void add_run_off(struct wf_sheet *s)
{
    const struct wf_brewday_water *w = &s->day->water;
    wf_sheet_measure(s, WF_MEASURE_FIRST);
    if (s->day->mash.thin)
        wf_sheet_line(s, WF_LINE_TICK, "Run off: all the water is in the mash, none is sparged");
    else
        wf_sheet_line(s, WF_LINE_TICK,
                      "Run off about %s, then sparge with %s at %s, slowly, until the kettle holds "
                      "%s (hot %s)",
                      wf_sheet_about(s, WF_DIM_VOLUME, w->first_runnings_l),
                      wf_sheet_figure(s, WF_DIM_VOLUME, w->sparge_l),
                      wf_sheet_figure(s, WF_DIM_TEMPERATURE, SPARGE_C),
                      wf_sheet_figure(s, WF_DIM_VOLUME, w->before_boil_l - w->early_l),
                      wf_sheet_figure(s, WF_DIM_VOLUME, w->before_hot_l));
}

void wf_sheet_mash(struct wf_sheet *s)
{
    if (s->day->mash.grain_kg == 0)
        return;
    wf_sheet_section(s, "Mash");
    wf_sheet_line(s, WF_LINE_CAUTION,
                  "Water and mash this hot scald in a second. Closed shoes, long sleeves, "
                  "gloves; move hot liquor by tap, pump or small jug. Do not lift a full vessel, "
                  "hot or cold: a litre is a kilogram.");
    add_strike(s);
    add_rests(s);
    add_why(s);
    wf_sheet_measure(s, WF_MEASURE_MASH);
    add_strength(s);
    add_run_off(s);
}
