/* quantity_print.c: figures as a brewer reads them. What is printed can be read again. */
#include "wortfit/quantity.h"

#include "base/number.h"
#include "base/try.h"
#include "quantity/unit_table.h"
#include "wortfit/brewing.h"

#include <math.h>
#include <string.h>

#define FIGURE_MAX 48
/* From here on decimals mean nothing, and digits would fill the page. */
#define LARGE 1e12

/* ---- Digits ---------------------------------------------------------------------------------- */

/* The value with as many decimals as are worth writing: `most`, less the zeros at the end, but at
 * least `least`. */
static void print_number(double value, int most, int least, char out[FIGURE_MAX])
{
    if (!(fabs(value) < LARGE)) {
        wf_snprintf(out, FIGURE_MAX, "%.6g", value);
        return;
    }
    wf_snprintf(out, FIGURE_MAX, "%.*f", most, value);
    size_t length = strlen(out);
    for (int n = most; n > least && out[length - 1] == '0'; n--)
        out[--length] = '\0';
    if (out[length - 1] == '.')
        out[--length] = '\0';
    if (out[0] == '-' &&
        strspn(out + 1, "0.") == length - 1) /* what rounds to nothing has no sign */
        memmove(out, out + 1, length);
}

/* ---- Weights --------------------------------------------------------------------------------- */

/* To the gram; what is weighed on a finer scale to a tenth, or below a gram to a hundredth. */
static void print_metric_mass(double kg, char out[FIGURE_MAX])
{
    char figure[FIGURE_MAX];
    double g = fabs(kg) * 1000;
    if (g >= 999.5) {
        print_number(kg, 3, 0, figure);
        wf_snprintf(out, FIGURE_MAX, "%s kg", figure);
        return;
    }
    int decimals = g < 1 ? 2 : g < 100 ? 1 : 0;
    print_number(kg * 1000, decimals, 0, figure);
    wf_snprintf(out, FIGURE_MAX, "%s g", figure);
}

/* Ounces to a hundredth below a pound; pounds, and ounces to a tenth, above. The rounding comes
 * first, so that 15.997 oz is a pound and 1 lb 15.96 oz is two. */
static void print_us_mass(double kg, char out[FIGURE_MAX])
{
    char figure[FIGURE_MAX];
    double ounces = kg / WF_KG_PER_OZ, tenths = round(ounces * 10);
    if (!(fabs(ounces) < LARGE)) {
        wf_snprintf(out, FIGURE_MAX, "%.6g lb", ounces / 16);
    } else if (ounces < 15.995) {
        print_number(ounces, 2, 0, figure);
        wf_snprintf(out, FIGURE_MAX, "%s oz", figure);
    } else if (fmod(tenths, 160) == 0) {
        wf_snprintf(out, FIGURE_MAX, "%.0f lb", tenths / 160);
    } else {
        print_number(fmod(tenths, 160) / 10, 1, 0, figure);
        wf_snprintf(out, FIGURE_MAX, "%.0f lb %s oz", floor(tenths / 160), figure);
    }
}

/* ---- The other dimensions -------------------------------------------------------------------- */

/* The unit that a dimension is written in, and how many decimals: at most, at least in a figure, at
 * least in a range, whose ends get one more at most. */
struct style {
    const char *symbol; /* NULL: bare */
    int most, least, range_least;
};

static const struct style style_row[WF_DIM_COUNT][2] = {
    [WF_DIM_MASS] = {{"kg", 3, 0, 0}, {"lb", 2, 0, 0}}, /* print_whole has its own way */
    [WF_DIM_VOLUME] = {{"L", 2, 0, 0}, {"gal", 2, 0, 0}},
    [WF_DIM_TIME] = {{"min", 1, 0, 0}, {"min", 1, 0, 0}},
    [WF_DIM_DAYS] = {{"days", 1, 0, 0}, {"days", 1, 0, 0}},
    [WF_DIM_TEMPERATURE] = {{"C", 1, 0, 0}, {"F", 1, 0, 0}},
    [WF_DIM_BEER_COLOUR] = {{"SRM", 1, 1, 0}, {"SRM", 1, 1, 0}},
    [WF_DIM_MALT_COLOUR] = {{"Lov", 1, 0, 0}, {"Lov", 1, 0, 0}},
    [WF_DIM_BITTERNESS] = {{"IBU", 1, 1, 0}, {"IBU", 1, 1, 0}},
    [WF_DIM_GRAVITY] = {{NULL, 3, 3, 3}, {NULL, 3, 3, 3}},
    [WF_DIM_SHARE] = {{"%", 1, 1, 0}, {"%", 1, 1, 0}},
    [WF_DIM_POTENTIAL] = {{"ppg", 1, 0, 0}, {"ppg", 1, 0, 0}},
    [WF_DIM_DIASTATIC] = {{"Lintner", 0, 0, 0}, {"Lintner", 0, 0, 0}},
    [WF_DIM_PRICE] = {{"/kg", 2, 2, 2}, {"/lb", 2, 2, 2}},
    [WF_DIM_MONEY] = {{NULL, 2, 2, 2}, {NULL, 2, 2, 2}},
    [WF_DIM_RATE] = {{"L/h", 2, 0, 0}, {"gal/h", 2, 0, 0}},
    [WF_DIM_DOSE] = {{"g/L", 2, 0, 0}, {"oz/gal", 3, 0, 0}},
    [WF_DIM_SPECIFIC_VOLUME] = {{"L/kg", 2, 0, 0}, {"qt/lb", 2, 0, 0}},
    [WF_DIM_CARBONATION] = {{"vol", 1, 1, 0}, {"vol", 1, 1, 0}},
    [WF_DIM_HEIGHT] = {{"m", 0, 0, 0}, {"ft", 0, 0, 0}},
    [WF_DIM_NUMBER] = {{NULL, 2, 2, 2}, {NULL, 2, 2, 2}},
};

/* Just the figure, in the style's unit; `more` decimals than the style's. */
static void print_figure(enum wf_dimension d, const struct style *s, double value, int more,
                         int least, char out[FIGURE_MAX])
{
    const struct wf_unit *u = s->symbol ? wf_unit_find(d, s->symbol) : NULL;
    double figure = value;
    if (u && !wf_unit_from_internal(u, value, &figure))
        figure = value; /* not met: no style's unit has a law that can fail */
    print_number(figure, s->most + more, least, out);
}

/* " SRM", "/kg", " day" */
static void append_unit(const struct style *s, char out[FIGURE_MAX])
{
    const char *symbol = s->symbol ? s->symbol : "";
    size_t used = strlen(out);
    if (strcmp(symbol, "days") == 0 && strcmp(out, "1") == 0)
        symbol = "day";
    wf_snprintf(out + used, FIGURE_MAX - used, "%s%s", symbol[0] && symbol[0] != '/' ? " " : "",
                symbol);
}

static void print_whole(enum wf_dimension d, double value, enum wf_units units, bool in_range,
                        char out[FIGURE_MAX])
{
    const struct style *s = &style_row[d][units];
    if (isnan(value)) {
        wf_snprintf(out, FIGURE_MAX, "-");
    } else if (isinf(value)) {
        wf_snprintf(out, FIGURE_MAX, "any");
    } else if (d == WF_DIM_MASS) {
        (units == WF_UNITS_US ? print_us_mass : print_metric_mass)(value, out);
    } else {
        print_figure(d, s, value, in_range, in_range ? s->range_least : s->least, out);
        append_unit(s, out);
    }
}

char *wf_quantity_print(enum wf_dimension d, double value, enum wf_units units, char *buffer,
                        size_t size)
{
    char out[FIGURE_MAX];
    print_whole(d, value, units, false, out);
    wf_snprintf(buffer, size, "%s", out);
    return buffer;
}

/* Cuts the unit off the first end where the second has the same one: "8 SRM", "12 SRM" -> "8", but
 * "1 lb 8 oz" stays whole. */
static void share_unit(char *first, const char *second)
{
    char *unit = strpbrk(first, " /");
    const char *other = strpbrk(second, " /");
    if (unit && other && strcmp(unit, other) == 0 && !strpbrk(unit, "0123456789"))
        *unit = '\0';
}

char *wf_range_print(enum wf_dimension d, struct wf_range r, enum wf_units units, char *buffer,
                     size_t size)
{
    char low[FIGURE_MAX], high[FIGURE_MAX];
    print_whole(d, r.low, units, true, low);
    print_whole(d, r.high, units, true, high);
    if (isinf(r.low) && isinf(r.high)) {
        wf_snprintf(buffer, size, "any");
    } else if (isinf(r.low)) {
        wf_snprintf(buffer, size, "<= %s", high);
    } else if (isinf(r.high)) {
        wf_snprintf(buffer, size, ">= %s", low);
    } else if (strcmp(low, high) == 0) {
        wf_snprintf(buffer, size, "%s", low);
    } else {
        share_unit(low, high);
        wf_snprintf(buffer, size, "%s..%s", low, high);
    }
    return buffer;
}
