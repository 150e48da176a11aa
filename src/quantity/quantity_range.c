/* quantity_range.c: wanted values: an aim, an aim with a tolerance, two ends, or one. */
#include "wortfit/quantity.h"

#include "base/ascii.h"
#include "quantity/figure.h"

#include <math.h>
#include <string.h>

struct wf_range wf_range_any(void)
{
    return (struct wf_range){.low = -HUGE_VAL, .high = HUGE_VAL, .aim = (double)NAN};
}

bool wf_range_is_any(struct wf_range r)
{
    return r.low == -HUGE_VAL && r.high == HUGE_VAL && isnan(r.aim);
}

double wf_range_middle(struct wf_range r)
{
    if (!isnan(r.aim))
        return r.aim;
    if (isfinite(r.low) && isfinite(r.high))
        return r.low + (r.high - r.low) / 2;
    if (isfinite(r.low))
        return r.low;
    return isfinite(r.high) ? r.high : (double)NAN;
}

/* An aim with an interval round it that stays within what the dimension allows. */
static struct wf_range around(enum wf_dimension d, double low, double aim, double high)
{
    const struct wf_dimension_row *row = &wf_dimension_table[d];
    return (struct wf_range){
        .low = fmax(low, row->least), .high = fmin(high, row->most), .aim = aim};
}

/* A unit given once, at the end, serves both figures; but "1.050..14 P" most likely means two
 * units. */
static bool share_unit(enum wf_dimension d, struct wf_figure *first, const struct wf_figure *second,
                       char why[WF_REASON_MAX])
{
    const struct wf_dimension_row *row = &wf_dimension_table[d];
    if (first->unit || !second->unit)
        return true;
    if (row->bare && !wf_unit_same(second->unit, wf_unit_find(d, row->unit)) &&
        first->number >= row->least && first->number <= row->most)
        return wf_figure_refuse(why, "mixes a bare figure with one in %s: write both in one unit",
                                second->unit->symbol);
    first->unit = second->unit;
    return true;
}

/* ">= 1.050", "<= 12 SRM" */
static bool parse_bound(enum wf_dimension d, const char *text, struct wf_range *out,
                        char why[WF_REASON_MAX])
{
    char number[WF_FIGURE_TEXT_MOST + 1];
    struct wf_figure f;
    double value;
    if (text[1] != '=')
        return wf_figure_refuse(why, "needs \"=\" after \"%c\": write \"%c= %s\"", text[0], text[0],
                                wf_ascii_skip_blanks(text + 1));
    if (!wf_figure_trim(d, text + 2, number, why) || !wf_figure_read(d, number, &f, why) ||
        !wf_figure_value(d, &f, &value, why))
        return false;
    *out = wf_range_any();
    *(text[0] == '>' ? &out->low : &out->high) = value;
    return true;
}

/* "1.050..1.060", "8..12 SRM" */
static bool parse_between(enum wf_dimension d, const char *first, const char *second,
                          struct wf_range *out, char why[WF_REASON_MAX])
{
    char text[WF_FIGURE_TEXT_MOST + 1];
    struct wf_figure f, g;
    struct wf_range r = wf_range_any();
    if (!wf_figure_trim(d, first, text, why) || !wf_figure_read(d, text, &f, why) ||
        !wf_figure_trim(d, second, text, why) || !wf_figure_read(d, text, &g, why) ||
        !share_unit(d, &f, &g, why) || !wf_figure_value(d, &f, &r.low, why) ||
        !wf_figure_value(d, &g, &r.high, why))
        return false;
    if (r.low > r.high)
        return wf_figure_refuse(why, "has its larger end first: write \"%s..%s\"", second, first);
    *out = r;
    return true;
}

/* One end of a tolerance, in the unit of the aim; past the law's range it is held by around(). */
static double tolerance_end(const struct wf_figure *aim, double distance, double past)
{
    double value = aim->number + distance;
    if (aim->unit && !wf_unit_to_internal(aim->unit, aim->number + distance, &value))
        return past;
    return value + aim->rest;
}

/* "1.055 +/- 0.002" */
static bool parse_tolerance(enum wf_dimension d, const char *first, const char *second,
                            struct wf_range *out, char why[WF_REASON_MAX])
{
    char text[WF_FIGURE_TEXT_MOST + 1];
    struct wf_figure aim, by;
    double value;
    if (!wf_figure_trim(d, first, text, why) || !wf_figure_read(d, text, &aim, why) ||
        !wf_figure_trim(d, second, text, why) || !wf_figure_read(d, text, &by, why) ||
        !share_unit(d, &aim, &by, why) || !wf_figure_value(d, &aim, &value, why))
        return false;
    if (by.number < 0)
        return wf_figure_refuse(why, "has a tolerance below zero");
    if (by.rest != 0 || (by.unit && !(aim.unit && wf_unit_same(by.unit, aim.unit))))
        return wf_figure_refuse(why,
                                "has its tolerance in another unit: write it in that of the aim");
    *out = around(d, tolerance_end(&aim, -by.number, -HUGE_VAL), value,
                  tolerance_end(&aim, by.number, HUGE_VAL));
    return true;
}

static bool parse_aim(enum wf_dimension d, const char *text, double tolerance, struct wf_range *out,
                      char why[WF_REASON_MAX])
{
    struct wf_figure f;
    double value;
    if (!wf_figure_read(d, text, &f, why) || !wf_figure_value(d, &f, &value, why))
        return false;
    double by = tolerance > 0 ? tolerance : 0;
    *out = around(d, value - by, value, value + by);
    return true;
}

bool wf_range_parse(enum wf_dimension d, const char *text, double tolerance, struct wf_range *out,
                    char why[WF_REASON_MAX])
{
    char trimmed[WF_FIGURE_TEXT_MOST + 1], *mark;
    if (!wf_figure_trim(d, text, trimmed, why))
        return false;
    if (trimmed[0] == '>' || trimmed[0] == '<')
        return parse_bound(d, trimmed, out, why);
    if ((mark = strstr(trimmed, "..")) != NULL) {
        *mark = '\0';
        return parse_between(d, trimmed, mark + 2, out, why);
    }
    if ((mark = strstr(trimmed, "+/-")) != NULL) {
        *mark = '\0';
        return parse_tolerance(d, trimmed, mark + 3, out, why);
    }
    return parse_aim(d, trimmed, tolerance, out, why);
}
