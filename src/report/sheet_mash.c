/* sheet_mash.c: crush, strike, rests, run-off. */
#include "report/sheet.h"

#include "base/number.h"
#include "base/try.h"

#include <math.h>

/* Of a steel tun for a litre of the mash's water: one that is named where the brewhouse tells none.
 */
#define STEEL_KG_L 0.3

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
        wf_table_cell(&t, "%s", wf_sheet_figure(s, WF_DIM_TEMPERATURE, rest->celsius));
        wf_table_cell(&t, "%s", wf_sheet_figure(s, WF_DIM_TIME, rest->minutes));
        wf_table_cell(&t, "%s", wf_sheet_figure(s, WF_DIM_VOLUME, rest->water_l));
        wf_table_cell(&t, "%s", wf_sheet_figure(s, WF_DIM_TEMPERATURE, rest->water_celsius));
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
                  "For %s (index %.1f%s). The final gravity is reckoned for a mash near %s: hotter "
                  "leaves a little more, cooler a little less.",
                  word[m->body], m->body_index, m->dry ? ", but it is to end dry" : "",
                  wf_sheet_figure(s, WF_DIM_TEMPERATURE, 67));
    if (m->weak)
        wf_sheet_line(s, WF_LINE_PLAIN,
                      "The grist has a diastatic power of %s, less than %s: rest longer, and go on "
                      "only once a drop of iodine stays brown.",
                      wf_sheet_figure(s, WF_DIM_DIASTATIC, s->day->recipe->predicted.lintner),
                      wf_sheet_figure(s, WF_DIM_DIASTATIC, WF_LINTNER_LEAST));
}

/* Where the efficiency is more than this mash can give, or hardly. */
static void add_strength(struct wf_sheet *s)
{
    const struct wf_brewday_mash *m = &s->day->mash;
    double efficiency = s->day->recipe->kettle.efficiency;
    if (!m->too_strong && !(efficiency > m->reach + WF_REACH_MORE))
        return;
    wf_sheet_line(
        s, WF_LINE_CAUTION,
        "%.4g %% efficiency is %s. Run off and sparged once, evenly mixed, it gives about "
        "%.0f %%, and wort of %s after the boil; slow sparging gives a little more. Take "
        "more grain and reckon with a lower efficiency, boil longer from more water, or "
        "keep malt extract at hand.",
        100 * efficiency,
        m->too_strong ? "more than this mash can give: even its first runnings are weaker "
                        "than that wort before the boil"
                      : "much to hope for of this mash",
        100 * m->reach, wf_sheet_figure(s, WF_DIM_GRAVITY, m->reach_sg));
}

static double one_digit(double value)
{
    double step = pow(10, floor(log10(value)));
    return round(value / step) * step;
}

/* What the strike water must warm beside the grain. */
static void add_tun(struct wf_sheet *s)
{
    const struct wf_brewday_mash *m = &s->day->mash;
    double more = m->tun_celsius;
    if (m->tun_heat_l > 0) {
        wf_sheet_line(s, WF_LINE_SMALL,
                      "The tun is as cold as the grain and warms like %s of water: that is in the "
                      "figure. Into a tun that was warmed beforehand goes water at %s.",
                      wf_sheet_figure(s, WF_DIM_VOLUME, m->tun_heat_l),
                      wf_sheet_figure(s, WF_DIM_TEMPERATURE, m->rests[0].water_celsius - more));
        return;
    }
    double unit = s->style->units == WF_UNITS_US ? WF_KG_PER_LB : 1;
    double kg = one_digit(STEEL_KG_L * m->rests[0].water_l / unit) * unit, hotter;
    if (wf_tun_celsius(kg * WF_STEEL_HEAT_L_KG, m->rests[0].water_l, m->grain_celsius,
                       m->rests[0].celsius, &more) != WF_OK)
        return;
    hotter = fmin(m->rests[0].water_celsius + more, s->day->boiling_celsius);
    wf_sheet_line(s, WF_LINE_SMALL,
                  "The tun is taken as warmed beforehand. A cold one of %s of steel wants water at "
                  "%s.",
                  wf_sheet_figure(s, WF_DIM_MASS, kg),
                  wf_sheet_figure(s, WF_DIM_TEMPERATURE, hotter));
}

static void add_strike(struct wf_sheet *s)
{
    const struct wf_brewday *d = s->day;
    const struct wf_brewday_mash *m = &d->mash;
    char under[80] = "";
    if (d->water.dead_l > 0)
        wf_snprintf(under, sizeof under, ", and %s under it",
                    wf_sheet_figure(s, WF_DIM_VOLUME, d->water.dead_l));
    wf_sheet_line(s, WF_LINE_TICK, "Crush the grain: kernels in a few pieces, husks whole");
    wf_sheet_line(s, WF_LINE_TICK,
                  "Heat %s to %s, and stir in %s of grain that is at %s (%s in the end%s)",
                  wf_sheet_figure(s, WF_DIM_VOLUME, m->rests[0].water_l),
                  wf_sheet_figure(s, WF_DIM_TEMPERATURE, m->rests[0].water_celsius),
                  wf_sheet_figure(s, WF_DIM_MASS, m->grain_kg),
                  wf_sheet_figure(s, WF_DIM_TEMPERATURE, m->grain_celsius),
                  wf_sheet_figure(s, WF_DIM_SPECIFIC_VOLUME, m->liquor_l_kg), under);
    if (m->held_back)
        wf_sheet_line(s, WF_LINE_PLAIN,
                      "The mash is thicker than the brewhouse's, since the tun holds no more; what "
                      "it lacks is sparged.");
    add_tun(s);
}

static void add_mash_out(struct wf_sheet *s)
{
    const struct wf_brewday_water *w = &s->day->water;
    double out = s->day->mash.out_l;
    if (!isnan(out))
        wf_sheet_line(s, WF_LINE_PLAIN,
                      "If it runs off slowly, or is to rest no longer, mash out: stir in %s of the "
                      "sparge's water as hot as it comes, which brings the mash to %s, and sparge "
                      "with the %s left.",
                      wf_sheet_about(s, WF_DIM_VOLUME, out),
                      wf_sheet_figure(s, WF_DIM_TEMPERATURE, WF_MASH_OUT_C),
                      wf_sheet_about(s, WF_DIM_VOLUME, w->sparge_l - out));
    else
        wf_sheet_line(s, WF_LINE_PLAIN,
                      "To mash out, heat the mash to %s: there is no water, or no room, to do it "
                      "with.",
                      wf_sheet_figure(s, WF_DIM_TEMPERATURE, WF_MASH_OUT_C));
}

static void add_run_off(struct wf_sheet *s)
{
    const struct wf_brewday_water *w = &s->day->water;
    wf_sheet_measure(s, WF_MEASURE_FIRST);
    add_mash_out(s);
    if (s->day->mash.thin)
        wf_sheet_line(s, WF_LINE_TICK, "Run off: all the water is in the mash, none is sparged");
    else
        wf_sheet_line(s, WF_LINE_TICK,
                      "Run off about %s, then sparge with %s at %s, slowly, until the kettle holds "
                      "%s (cooled: warm wort fills some 2 %% more)",
                      wf_sheet_about(s, WF_DIM_VOLUME, w->first_runnings_l),
                      wf_sheet_figure(s, WF_DIM_VOLUME, w->sparge_l),
                      wf_sheet_figure(s, WF_DIM_TEMPERATURE, WF_MASH_OUT_C),
                      wf_sheet_figure(s, WF_DIM_VOLUME, w->before_boil_l - w->early_l));
}

void wf_sheet_mash(struct wf_sheet *s)
{
    if (s->day->mash.grain_kg == 0)
        return;
    wf_sheet_section(s, "Mash");
    wf_sheet_line(s, WF_LINE_CAUTION,
                  "Water and mash this hot scald in a second. Closed shoes, long sleeves, "
                  "gloves; move hot liquor by tap, pump or small jug. Do not lift a full vessel, "
                  "hot or cold: %s.",
                  s->style->units == WF_UNITS_US ? "a gallon weighs more than 8 lb"
                                                 : "a litre is a kilogram");
    wf_sheet_vessel(s, WF_VESSEL_TUN);
    add_strike(s);
    add_rests(s);
    add_why(s);
    wf_sheet_measure(s, WF_MEASURE_MASH);
    wf_sheet_line(
        s, WF_LINE_SMALL,
        "What is stirred in is water of the sparge, or, where the tun is full, wort drawn "
        "off and heated.");
    add_strength(s);
    add_run_off(s);
}
