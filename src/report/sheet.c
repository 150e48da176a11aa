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

/* Where lines are broken by who shows them, a figure and its unit stay together. */
const char *wf_sheet_figure(struct wf_sheet *s, enum wf_dimension d, double value)
{
    char figure[32], *out = next_figure(s);
    size_t used = 0, size = sizeof s->figures.text[0];
    wf_style_figure(d, value, s->style->units, figure, sizeof figure);
    for (const char *at = figure; *at && used + sizeof NO_BREAK < size; at++) {
        bool blank = *at == ' ' && s->form->whole_names;
        used += (size_t)wf_snprintf(out + used, size - used, "%.*s", blank ? 2 : 1,
                                    blank ? NO_BREAK : at);
    }
    return out;
}

const char *wf_sheet_about(struct wf_sheet *s, enum wf_dimension d, double value)
{
    bool metric = s->style->units == WF_UNITS_METRIC;
    double step = d == WF_DIM_TIME          ? 1
                  : d == WF_DIM_TEMPERATURE ? (metric ? 0.5 : 5.0 / 9)
                  : d == WF_DIM_VOLUME      ? (metric ? 0.1 : 0.1 * WF_L_PER_US_GAL)
                                            : (metric ? 0.005 : 0.5 * WF_KG_PER_OZ);
    double zero = d == WF_DIM_TEMPERATURE && !metric ? -160.0 / 9 : 0; /* whole Fahrenheit */
    double rounded = zero + round((value - zero) / step) * step;
    return wf_sheet_figure(s, d, rounded > zero || value <= zero ? rounded : value);
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
