/* figure.c: a number, then a unit. */
#include "quantity/figure.h"

#include "base/ascii.h"
#include "base/number.h"

#include <math.h>
#include <string.h>

bool wf_figure_trim(enum wf_dimension d, const char *text, char out[WF_FIGURE_TEXT_MOST + 1],
                    char why[WF_REASON_MAX])
{
    const struct wf_dimension_row *row = &wf_dimension_table[d];
    text = wf_ascii_skip_blanks(text);
    size_t length = strlen(text);
    while (length > 0 && wf_ascii_blank(text[length - 1]))
        length--;
    if (length == 0)
        return wf_figure_refuse(why, "is empty: %s is written \"%s\"", row->called, row->example);
    if (length > WF_FIGURE_TEXT_MOST)
        return wf_figure_refuse(why, "is longer than %d characters: %s is written \"%s\"",
                                WF_FIGURE_TEXT_MOST, row->called, row->example);
    memcpy(out, text, length);
    out[length] = '\0';
    return true;
}

/* Where a dimension may be a sum: length of the unit at p that another number follows, else all. */
static size_t unit_length(enum wf_dimension d, const char *p)
{
    size_t letters = 0;
    while (wf_ascii_letter(p[letters]))
        letters++;
    bool more = letters > 0 && wf_ascii_digit(*wf_ascii_skip_blanks(p + letters));
    return wf_dimension_table[d].sum && more ? letters : strlen(p);
}

/* A number and its unit at the start of text; *next is what follows them. */
static bool read_part(enum wf_dimension d, const char *text, struct wf_figure *f, const char **next,
                      char why[WF_REASON_MAX])
{
    const char *p;
    if (!wf_number_parse(text, &p, &f->number))
        return wf_figure_refuse_start(d, why);
    if (p[0] == ',' && wf_ascii_digit(p[1]))
        return wf_figure_refuse(why, "has a comma in a number: write a decimal point, \"%.*s.%s\"",
                                (int)(p - text), text, p + 1);
    p = wf_ascii_skip_blanks(p);
    size_t length = unit_length(d, p);
    char unit[WF_FIGURE_TEXT_MOST + 1];
    memcpy(unit, p, length);
    unit[length] = '\0';
    f->unit = length > 0 ? wf_unit_find(d, unit) : NULL;
    if (length > 0 && !f->unit)
        return wf_figure_refuse_unit(d, f->number, unit, why);
    *next = wf_ascii_skip_blanks(p + length);
    return true;
}

/* "9 lb 9.5 oz": each unit is smaller than the one before. */
bool wf_figure_read(enum wf_dimension d, const char *text, struct wf_figure *f,
                    char why[WF_REASON_MAX])
{
    const char *next = text;
    if (*text == '\0')
        return wf_figure_refuse_start(d, why);
    if (!read_part(d, text, f, &next, why))
        return false;
    f->rest = 0;
    for (struct wf_figure part, before = *f; *next; before = part) {
        if (!read_part(d, next, &part, &next, why))
            return false;
        if (!part.unit)
            return wf_figure_refuse_bare(d, part.number, why);
        if (!(part.unit->scale < before.unit->scale))
            return wf_figure_refuse(why, "adds %s to %s: write the larger unit first",
                                    part.unit->symbol, before.unit->symbol);
        f->rest += part.unit->scale * part.number;
    }
    return true;
}

bool wf_figure_value(enum wf_dimension d, const struct wf_figure *f, double *out,
                     char why[WF_REASON_MAX])
{
    const struct wf_dimension_row *row = &wf_dimension_table[d];
    double value = f->number;
    if (!f->unit && !row->bare)
        return wf_figure_refuse_bare(d, f->number, why);
    if (f->number < 0 && row->least >= 0)
        return wf_figure_refuse(why, "goes below zero, which %s cannot", row->called);
    if (f->unit && !wf_unit_to_internal(f->unit, f->number, &value))
        return wf_figure_refuse_limits(d, why);
    value += f->rest; /* also makes a zero of -0 */
    if (!(value >= row->least && value <= row->most))
        return wf_figure_refuse_limits(d, why);
    *out = value;
    return true;
}
