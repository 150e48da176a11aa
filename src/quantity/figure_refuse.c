/* figure_refuse.c: what is wrong with a figure, and what would be right. */
#include "quantity/figure.h"

#include "base/number.h"
#include "base/suggest.h"
#include "base/try.h"
#include "base/utf8.h"

#include <stdarg.h>
#include <string.h>

#define UNIT_MOST_SHOWN 24
#define UNITS_MOST      16 /* of one dimension */

bool wf_figure_refuse(char why[WF_REASON_MAX], const char *format, ...)
{
    char message[WF_REASON_MAX];
    va_list args;
    va_start(args, format);
    wf_vsnprintf(message, sizeof message, format, args);
    va_end(args);
    wf_utf8_safe(message, strlen(message), why, WF_REASON_MAX); /* parts of it were read */
    return false;
}

/* "4.5 kg", "2.40/kg": the number with a unit after it. */
static const char *with_unit(double number, const char *symbol, char *out, size_t size)
{
    wf_snprintf(out, size, "%.6g%s%s", number, symbol[0] == '/' ? "" : " ", symbol);
    return out;
}

bool wf_figure_refuse_start(enum wf_dimension d, char why[WF_REASON_MAX])
{
    const struct wf_dimension_row *row = &wf_dimension_table[d];
    return wf_figure_refuse(why, "lacks a number that can be read: %s is written \"%s\"%s",
                            row->called, row->example, row->hint);
}

/* Symbols that mean one thing here and another there: the figure is kept, the unit put right. */
static const struct {
    enum wf_dimension wanted;
    const char *read, *meant;
} mistaken_row[] = {
    {WF_DIM_MALT_COLOUR, "L", "Lov"},   {WF_DIM_MALT_COLOUR, "SRM", "Lov"},
    {WF_DIM_BEER_COLOUR, "Lov", "SRM"}, {WF_DIM_BEER_COLOUR, "L", "SRM"},
    {WF_DIM_DIASTATIC, "L", "Lintner"},
};

static bool refuse_other(enum wf_dimension d, double number, const struct wf_unit *u,
                         char why[WF_REASON_MAX])
{
    char right[64];
    const struct wf_dimension_row *row = &wf_dimension_table[d];
    wf_snprintf(right, sizeof right, "%s", row->example);
    for (size_t i = 0; i < WF_COUNT_OF(mistaken_row); i++)
        if (mistaken_row[i].wanted == d && strcmp(mistaken_row[i].read, u->symbol) == 0)
            with_unit(number, mistaken_row[i].meant, right, sizeof right);
    return wf_figure_refuse(why, "is %s; %s is written \"%s\"",
                            wf_dimension_table[u->dimension].called, row->called, right);
}

/* "kg, g, lb or oz", each word made by `write`. */
static void list_common(enum wf_dimension d, const double *number, char *out, size_t size)
{
    size_t count = 0, seen = 0, used = 0;
    for (size_t i = 0; i < wf_unit_count; i++)
        count += wf_unit_table[i].dimension == d && wf_unit_table[i].common;
    out[0] = '\0';
    for (size_t i = 0; i < wf_unit_count && used < size; i++) {
        const struct wf_unit *u = &wf_unit_table[i];
        char word[64];
        if (u->dimension != d || !u->common)
            continue;
        const char *between = seen == 0 ? "" : seen + 1 == count ? " or " : ", ";
        if (number)
            wf_snprintf(out + used, size - used, "%s\"%s\"", between,
                        with_unit(*number, u->symbol, word, sizeof word));
        else
            wf_snprintf(out + used, size - used, "%s%s", between, u->symbol);
        used += strlen(out + used);
        seen++;
    }
}

bool wf_figure_refuse_unit(enum wf_dimension d, double number, const char *unit,
                           char why[WF_REASON_MAX])
{
    const struct wf_dimension_row *row = &wf_dimension_table[d];
    const struct wf_unit *other = wf_unit_find_any(unit);
    const char *symbols[UNITS_MOST];
    char shown[UNIT_MOST_SHOWN], units[96];
    size_t count = 0;
    if (other)
        return refuse_other(d, number, other, why);
    wf_utf8_safe(unit, strlen(unit), shown, sizeof shown); /* cut, too */
    for (size_t i = 0; i < wf_unit_count; i++)
        if (wf_unit_table[i].dimension == d && count < UNITS_MOST)
            symbols[count++] = wf_unit_table[i].symbol;
    int near = wf_suggest(unit, symbols, count);
    if (near >= 0)
        return wf_figure_refuse(why,
                                "has the unit \"%s\", which is not known: the nearest is \"%s\"%s",
                                shown, symbols[near], row->hint);
    list_common(d, NULL, units, sizeof units);
    if (units[0] == '\0')
        return wf_figure_refuse(why, "has \"%s\" after the number: %s is written \"%s\"%s", shown,
                                row->called, row->example, row->hint);
    return wf_figure_refuse(why, "has the unit \"%s\", which is not known: %s is written in %s%s",
                            shown, row->called, units, row->hint);
}

bool wf_figure_refuse_bare(enum wf_dimension d, double number, char why[WF_REASON_MAX])
{
    char units[160];
    list_common(d, &number, units, sizeof units);
    return wf_figure_refuse(why, "needs a unit: write %s", units);
}

bool wf_figure_refuse_limits(enum wf_dimension d, char why[WF_REASON_MAX])
{
    const struct wf_dimension_row *row = &wf_dimension_table[d];
    char least[64], most[64];
    return wf_figure_refuse(why, "goes past what %s can be, %s to %s", row->called,
                            wf_quantity_print(d, row->least, WF_UNITS_METRIC, least, sizeof least),
                            wf_quantity_print(d, row->most, WF_UNITS_METRIC, most, sizeof most));
}
