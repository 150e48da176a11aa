/* sheet.c: a brew day's sheet from its parts, in either form; and what the parts share. */
#include "report/sheet.h"

#include "base/number.h"
#include "base/try.h"

#include <math.h>
#include <stdarg.h>

#define NO_BREAK "\xC2\xA0" /* U+00A0 */

static char *next_figure(struct wf_sheet *s)
{
    return s->figures.text[s->figures.next++ % WF_FIGURES_MOST];
}

#define FAHRENHEIT_0 (-160.0 / 9) /* C */
#define PER_C        (9.0 / 5)

double wf_sheet_temperature(const struct wf_sheet *s, double celsius)
{
    if (s->style->units == WF_UNITS_METRIC)
        return celsius;
    return FAHRENHEIT_0 + round((celsius - FAHRENHEIT_0) * PER_C) / PER_C;
}

/* Where lines are broken by who shows them, a figure and its unit stay together. */
const char *wf_sheet_figure(struct wf_sheet *s, enum wf_dimension d, double value)
{
    char figure[32], *out = next_figure(s);
    size_t used = 0, size = sizeof s->figures.text[0];
    double shown = d == WF_DIM_TEMPERATURE ? wf_sheet_temperature(s, value) : value;
    wf_style_figure(d, shown, s->style->units, figure, sizeof figure);
    for (const char *at = figure; *at && used + sizeof NO_BREAK < size; at++) {
        bool blank = *at == ' ' && s->form->whole_names;
        used += (size_t)wf_snprintf(out + used, size - used, "%.*s", blank ? 2 : 1,
                                    blank ? NO_BREAK : at);
    }
    return out;
}

/* What kitchens and brewers measure to: below `less` in steps of `step`. */
struct measure {
    double less, step;
};
#define GAL WF_L_PER_US_GAL
#define OZ  WF_KG_PER_OZ
static const struct measure by_volume[2][5] = {
    [WF_UNITS_METRIC] = {{0.1, 0.01}, {1, 0.05}, {50, 0.1}, {500, 0.5}, {HUGE_VAL, 5}},
    [WF_UNITS_US] = {{0.1 * GAL, 0.01 * GAL},
                     {GAL, 0.05 * GAL},
                     {20 * GAL, 0.1 * GAL},
                     {100 * GAL, 0.5 * GAL},
                     {HUGE_VAL, GAL}},
};
static const struct measure by_mass[2][4] = {
    [WF_UNITS_METRIC] = {{0.01, 1e-4}, {0.2, 1e-3}, {1, 0.005}, {HUGE_VAL, 0.01}},
    [WF_UNITS_US] = {{OZ, 0.02 * OZ}, {8 * OZ, 0.1 * OZ}, {32 * OZ, 0.5 * OZ}, {HUGE_VAL, OZ}},
};

static double step_of(const struct measure *m, double value)
{
    size_t i = 0;
    while (value >= m[i].less)
        i++;
    return m[i].step;
}

const char *wf_sheet_about(struct wf_sheet *s, enum wf_dimension d, double value)
{
    double step = d == WF_DIM_VOLUME ? step_of(by_volume[s->style->units], value)
                  : d == WF_DIM_MASS ? step_of(by_mass[s->style->units], value)
                                     : 1; /* whole minutes */
    double rounded = round(value / step) * step;
    return wf_sheet_figure(s, d, rounded > 0 || value <= 0 ? rounded : value);
}

void wf_sheet_section(struct wf_sheet *s, const char *title)
{
    s->form->section(s, title);
}

void wf_sheet_line(struct wf_sheet *s, enum wf_line kind, const char *format, ...)
{
    char text[WF_PLAIN_MOST];
    va_list args;
    va_start(args, format);
    wf_vsnprintf(text, sizeof text, format, args);
    va_end(args);
    s->form->line(s, kind, text);
}

struct wf_table wf_sheet_table(struct wf_sheet *s, const struct wf_column *columns, size_t count,
                               struct wf_column room[WF_COLUMNS_MOST])
{
    for (size_t i = 0; i < count; i++) {
        room[i] = columns[i];
        if (s->form->whole_names)
            room[i].most = 0;
    }
    struct wf_table t = {.columns = room, .column_count = count};
    wf_table_titles(&t);
    return t;
}

void wf_sheet_add_table(struct wf_sheet *s, struct wf_table *t, const char *caption)
{
    s->form->table(s, t, caption);
}

void wf_sheet_draw(struct wf_sheet *s, enum wf_drawing what)
{
    if (s->form->drawing)
        s->form->drawing(s, what);
}

static enum wf_status write_sheet(const struct wf_brewday *d, const struct wf_report_style *style,
                                  const struct wf_sheet_form *form, char **out, struct wf_error *e)
{
    static void (*const part[])(struct wf_sheet *) = {
        wf_sheet_head, wf_sheet_weigh,   wf_sheet_water,   wf_sheet_mash,  wf_sheet_boil,
        wf_sheet_cool, wf_sheet_ferment, wf_sheet_package, wf_sheet_basis,
    };
    char title[300];
    struct wf_text text = {0};
    struct wf_sheet s = {.day = d, .style = style, .form = form, .out = &text};
    s.html.out = &text;
    wf_snprintf(title, sizeof title, "%s: brew day", d->recipe->name ? d->recipe->name : "Beer");
    form->begin(&s, title);
    for (size_t i = 0; i < WF_COUNT_OF(part); i++)
        part[i](&s);
    form->end(&s);
    return wf_text_hand_over(&text, out, e);
}

enum wf_status wf_report_sheet_text(const struct wf_brewday *d, const struct wf_report_style *s,
                                    char **out, struct wf_error *e)
{
    return write_sheet(d, s, &wf_sheet_text, out, e);
}

enum wf_status wf_report_sheet_html(const struct wf_brewday *d, const struct wf_report_style *s,
                                    char **out, struct wf_error *e)
{
    return write_sheet(d, s, &wf_sheet_html, out, e);
}
