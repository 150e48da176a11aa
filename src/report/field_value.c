/* field_value.c: see field_value.h. A row a kind: how it is printed and how it is written. */
#include "report/field_value.h"

#include "base/number.h"
#include "base/try.h"

#include <math.h>
#include <string.h>

typedef void print_fn(const struct wf_field *f, const void *at, enum wf_units units, char *buffer);
typedef void write_fn(const struct wf_field *f, const void *at, struct wf_json_put *j);

/* Adds to a list of words parted by commas. */
static void join(char *buffer, const char *word)
{
    size_t used = strlen(buffer);
    wf_snprintf(buffer + used, WF_FIELD_TEXT_MOST - used, "%s%s", used ? ", " : "", word);
}

/* ---- Texts ----------------------------------------------------------------------------------- */

static void print_text(const struct wf_field *f, const void *at, enum wf_units units, char *buffer)
{
    const char *text = *(const char *const *)at;
    (void)f, (void)units;
    wf_snprintf(buffer, WF_FIELD_TEXT_MOST, "%s", text ? text : "");
}

static void write_text(const struct wf_field *f, const void *at, struct wf_json_put *j)
{
    const char *text = *(const char *const *)at;
    wf_put_string(j, f->key, text && *text ? text : NULL);
}

static void print_texts(const struct wf_field *f, const void *at, enum wf_units units, char *buffer)
{
    (void)f, (void)units;
    for (const char *const *t = *(const char *const *const *)at; t && *t; t++)
        join(buffer, *t);
}

static void write_texts(const struct wf_field *f, const void *at, struct wf_json_put *j)
{
    const char *const *t = *(const char *const *const *)at;
    if (!t || !*t)
        return;
    wf_put_open(j, f->key, '[', true);
    for (; *t; t++)
        wf_put_string(j, NULL, *t);
    wf_put_close(j, ']');
}

static void print_class(const struct wf_field *f, const void *at, enum wf_units units, char *buffer)
{
    (void)f, (void)units;
    join(buffer, wf_malt_class_name(*(const enum wf_malt_class *)at));
}

static void write_class(const struct wf_field *f, const void *at, struct wf_json_put *j)
{
    wf_put_string(j, f->key, wf_malt_class_name(*(const enum wf_malt_class *)at));
}

static void print_yes(const struct wf_field *f, const void *at, enum wf_units units, char *buffer)
{
    (void)f, (void)units;
    join(buffer, *(const bool *)at ? "yes" : "no");
}

static void write_yes(const struct wf_field *f, const void *at, struct wf_json_put *j)
{
    wf_put_bool(j, f->key, *(const bool *)at);
}

/* ---- Figures --------------------------------------------------------------------------------- */

static void print_figure(const struct wf_field *f, const void *at, enum wf_units units,
                         char *buffer)
{
    double value = *(const double *)at;
    if (isfinite(value))
        wf_style_figure(f->dimension, value, units, buffer, WF_FIELD_TEXT_MOST);
}

static void write_figure(const struct wf_field *f, const void *at, struct wf_json_put *j)
{
    wf_put_number(j, f->key, *(const double *)at);
}

static void print_range(const struct wf_field *f, const void *at, enum wf_units units, char *buffer)
{
    const struct wf_range *r = at;
    if (!wf_range_is_any(*r))
        wf_style_range(f->dimension, *r, units, buffer, WF_FIELD_TEXT_MOST);
}

static void write_range(const struct wf_field *f, const void *at, struct wf_json_put *j)
{
    const struct wf_range *r = at;
    if (wf_range_is_any(*r))
        return;
    wf_put_open(j, f->key, '{', true);
    wf_put_number(j, "low", r->low);
    wf_put_number(j, "high", r->high);
    wf_put_number(j, "aim", r->aim);
    wf_put_close(j, '}');
}

/* The span's two members as a range; any where one was not given. */
static struct wf_range span(const struct wf_field *f, const void *at)
{
    const char *low = at;
    const void *high = low - f->offset + f->high;
    struct wf_range r = {*(const double *)at, *(const double *)high, (double)NAN};
    return isnan(r.low) || isnan(r.high) ? wf_range_any() : r;
}

static void print_span(const struct wf_field *f, const void *at, enum wf_units units, char *buffer)
{
    struct wf_range r = span(f, at);
    print_range(f, &r, units, buffer);
}

static void write_span(const struct wf_field *f, const void *at, struct wf_json_put *j)
{
    struct wf_range r = span(f, at);
    write_range(f, &r, j);
}

static void print_scores(const struct wf_field *f, const void *at, enum wf_units units,
                         char *buffer)
{
    const double *scores = at;
    char word[64];
    (void)units;
    for (int i = 0; i < f->count; i++) {
        if (scores[i] > 0) {
            wf_snprintf(word, sizeof word, "%s %g", wf_word_name((enum wf_word)(f->first + i)),
                        scores[i]);
            join(buffer, word);
        }
    }
}

static void write_scores(const struct wf_field *f, const void *at, struct wf_json_put *j)
{
    const double *scores = at;
    wf_put_open(j, f->key, '{', true);
    for (int i = 0; i < f->count; i++)
        if (scores[i] > 0)
            wf_put_number(j, wf_word_name((enum wf_word)(f->first + i)), scores[i]);
    wf_put_close(j, '}');
}

static const struct {
    print_fn *print;
    write_fn *write;
} row[] = {
    [WF_FIELD_TEXT] = {print_text, write_text},
    [WF_FIELD_TEXTS] = {print_texts, write_texts},
    [WF_FIELD_FIGURE] = {print_figure, write_figure},
    [WF_FIELD_SPAN] = {print_span, write_span},
    [WF_FIELD_RANGE] = {print_range, write_range},
    [WF_FIELD_CLASS] = {print_class, write_class},
    [WF_FIELD_YES] = {print_yes, write_yes},
    [WF_FIELD_SCORES] = {print_scores, write_scores},
};
_Static_assert(WF_COUNT_OF(row) == WF_FIELD_KIND_COUNT, "one row a kind");

char *wf_field_print(const struct wf_field *f, const void *item, enum wf_units units,
                     char buffer[WF_FIELD_TEXT_MOST])
{
    buffer[0] = '\0';
    row[f->kind].print(f, (const char *)item + f->offset, units, buffer);
    return buffer;
}

void wf_field_write(const struct wf_field *f, const void *item, struct wf_json_put *j)
{
    row[f->kind].write(f, (const char *)item + f->offset, j);
}
