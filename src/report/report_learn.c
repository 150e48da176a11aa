/* report_learn.c: see report_learn.h. */
#include "report/report_learn.h"

#include "base/date.h"
#include "base/number.h"
#include "base/try.h"
#include "report/json_put.h"
#include "report/table.h"

#include <math.h>

struct row {
    const char *name;
    enum wf_dimension dimension;
    const struct wf_learned *learned;
};
#define ROWS_MOST 5

static size_t list_rows(const struct wf_learning *l, struct row out[ROWS_MOST])
{
    const struct row all[ROWS_MOST] = {
        {"efficiency", WF_DIM_SHARE, &l->efficiency},
        {"efficiency fall", WF_DIM_SHARE, &l->fall},
        {"evaporation", WF_DIM_RATE, &l->evaporation},
        {"bitterness, measured to predicted", WF_DIM_NUMBER, &l->bitterness},
        {"colour, measured to predicted", WF_DIM_NUMBER, &l->colour},
    };
    for (size_t i = 0; i < ROWS_MOST; i++)
        out[i] = all[i];
    return ROWS_MOST;
}

/* ---- Text ------------------------------------------------------------------------------------ */

static void figure_cell(struct wf_table *t, enum wf_dimension d, double value, enum wf_units units)
{
    if (d == WF_DIM_NUMBER && !isnan(value))
        wf_table_cell(t, "%.2f", value);
    else
        wf_table_figure(t, d, value, units);
}

static void add_row(struct wf_table *t, const char *name, enum wf_dimension d,
                    const struct wf_learned *v, const struct wf_report_style *s)
{
    wf_table_cell(t, "%s", name);
    figure_cell(t, d, v->value, s->units);
    figure_cell(t, d, v->error, s->units);
    wf_table_figure(t, WF_DIM_SHARE, v->spread, s->units);
    wf_table_cell(t, "%zu", v->brews);
    figure_cell(t, d, v->now, s->units);
    if (v->brews > 0 && !v->enough)
        wf_table_cell(t, "too few to go by");
    else if (v->aside > 0)
        wf_table_cell(t, "%zu too far off", v->aside);
    else
        wf_table_cell(t, "%s", "");
}

/* The row of the fall has its own words: a fall that is not seen is no fall of nothing. */
static void add_fall(struct wf_table *t, const struct wf_learning *l,
                     const struct wf_report_style *s)
{
    const struct wf_learned *v = &l->fall;
    const struct wf_range interval = {l->fall_low, l->fall_high, (double)NAN};
    char range[48];
    wf_table_cell(t, "  its fall by 10 points");
    if (v->value > 0)
        figure_cell(t, WF_DIM_SHARE, v->value, s->units);
    else
        wf_table_cell(t, v->enough ? "none seen" : "-");
    wf_table_cell(t, "-");
    wf_table_cell(t, "-");
    wf_table_cell(t, "%zu", v->brews);
    figure_cell(t, WF_DIM_SHARE, v->now, s->units);
    if (v->value > 0)
        wf_table_cell(t, "90 %% sure: %s",
                      wf_style_range(WF_DIM_SHARE, interval, s->units, range, sizeof range));
    else
        wf_table_cell(t, "%s", v->enough || v->brews == 0 ? "" : "too few, or too alike");
}

static void add_table(struct wf_text *out, const struct wf_learning *l,
                      const struct wf_report_style *s)
{
    static const struct wf_column columns[] = {
        {.title = ""},      {"learnt", true, 0}, {"+-", true, 0}, {"spread", true, 0},
        {"brews", true, 0}, {"now", true, 0},    {.title = ""}};
    struct wf_table t = {.columns = columns, .column_count = WF_COUNT_OF(columns)};
    struct row rows[ROWS_MOST];
    char name[128];
    size_t count = list_rows(l, rows);
    wf_table_titles(&t);
    for (size_t i = 0; i < count; i++) {
        wf_snprintf(name, sizeof name, "%s at %.3f", rows[i].name, l->gravity);
        if (rows[i].learned == &l->fall)
            add_fall(&t, l, s);
        else
            add_row(&t,
                    rows[i].learned == &l->efficiency && l->efficiency.brews > 0 ? name
                                                                                 : rows[i].name,
                    rows[i].dimension, rows[i].learned, s);
    }
    for (size_t i = 0; i < l->yeast_count; i++) {
        wf_snprintf(name, sizeof name, "attenuation, %s", l->yeasts[i].id);
        add_row(&t, name, WF_DIM_SHARE, &l->yeasts[i].attenuation, s);
    }
    wf_table_write(&t, s, 0, out);
}

/* "too far off, of efficiency: 2026-03-14, 2026-08-02" */
static void add_aside(struct wf_text *out, const char *name, const struct wf_learned *v)
{
    char day[WF_DATE_TEXT_MAX];
    if (v->aside == 0)
        return;
    wf_text_add(out, "too far off, of %s:", name);
    for (size_t i = 0; i < v->aside && i < WF_LEARN_ASIDE_MOST; i++)
        wf_text_add(out, "%s %s", i > 0 ? "," : "", wf_date_print(v->aside_on[i], day));
    if (v->aside > WF_LEARN_ASIDE_MOST)
        wf_text_add(out, " and %zu more", v->aside - WF_LEARN_ASIDE_MOST);
    wf_text_add(out, "\n");
}

/* The brews to look at again: most often a figure was written down wrong. */
static void add_all_aside(struct wf_text *out, const struct wf_learning *l)
{
    struct row rows[ROWS_MOST];
    char name[128];
    size_t count = list_rows(l, rows);
    for (size_t i = 0; i < count; i++)
        add_aside(out, rows[i].name, rows[i].learned);
    for (size_t i = 0; i < l->yeast_count; i++) {
        wf_snprintf(name, sizeof name, "attenuation, %s", l->yeasts[i].id);
        add_aside(out, name, &l->yeasts[i].attenuation);
    }
}

static void add_head(struct wf_text *out, const struct wf_learning *l,
                     const struct wf_report_style *s)
{
    char line[128], first[WF_DATE_TEXT_MAX], last[WF_DATE_TEXT_MAX];
    wf_snprintf(line, sizeof line, "%zu %s", l->brews, l->brews == 1 ? "brew" : "brews");
    if (l->brews > 0 && l->first == l->last)
        wf_snprintf(line, sizeof line, "%zu %s, %s", l->brews, l->brews == 1 ? "brew" : "brews",
                    wf_date_print(l->first, first));
    else if (l->brews > 0)
        wf_snprintf(line, sizeof line, "%zu %s, %s to %s", l->brews,
                    l->brews == 1 ? "brew" : "brews", wf_date_print(l->first, first),
                    wf_date_print(l->last, last));
    wf_style_line(out, s, WF_MARK_STRONG, line);
    if (l->left_out > 0) {
        wf_text_add(out, "%zu left out, whose figures cannot be; the first in ", l->left_out);
        wf_plain_add(out, l->why);
        wf_text_add(out, "\n");
    }
    if (l->elsewhere > 0) {
        wf_text_add(out, "%zu left out, brewed elsewhere%s: \"", l->elsewhere,
                    l->elsewhere == 1 ? "" : ", the first at");
        wf_plain_add(out, l->other_name);
        wf_text_add(out, "\"\n");
    }
    if (l->mixed)
        wf_text_add(out, "brews of several brewhouses: --brewhouse FILE counts those of one\n");
    wf_text_add(out, "\n");
}

enum wf_status wf_report_learn_text(const struct wf_learning *l, const char *written,
                                    const struct wf_report_style *s, char **out, struct wf_error *e)
{
    struct wf_text text = {0};
    add_head(&text, l, s);
    add_table(&text, l, s);
    wf_text_add(&text, "\n+- is one standard error of what was learnt, spread how far a brew is "
                       "off.\n");
    add_all_aside(&text, l);
    if (written) {
        bool enough = wf_learning_has_enough(l);
        wf_text_add(&text, "%s", enough ? "Written into " : "Too few brews to change ");
        wf_plain_add(&text, written);
        wf_text_add(&text, "%s.\n", enough ? ": all that enough brews tell" : "");
    }
    return wf_text_hand_over(&text, out, e);
}

/* ---- JSON ------------------------------------------------------------------------------------ */

static void put_aside(struct wf_json_put *j, const struct wf_learned *v)
{
    char day[WF_DATE_TEXT_MAX];
    if (v->aside == 0)
        return;
    wf_put_open(j, "aside_on", '[', true);
    for (size_t i = 0; i < v->aside && i < WF_LEARN_ASIDE_MOST; i++)
        wf_put_string(j, NULL, wf_date_print(v->aside_on[i], day));
    wf_put_close(j, ']');
}

static void put_learned(struct wf_json_put *j, const char *key, const struct wf_learned *v,
                        const char *id, double gravity, const struct wf_range *interval)
{
    wf_put_open(j, key, '{', true);
    wf_put_string(j, "id", id);
    wf_put_number(j, "gravity", gravity);
    wf_put_number(j, "value", v->value);
    if (interval) {
        wf_put_number(j, "low", interval->low);
        wf_put_number(j, "high", interval->high);
    }
    wf_put_number(j, "error", v->error);
    wf_put_number(j, "spread", v->spread);
    wf_put_count(j, "brews", v->brews);
    wf_put_count(j, "aside", v->aside);
    put_aside(j, v);
    wf_put_number(j, "now", v->now);
    wf_put_bool(j, "enough", v->enough);
    wf_put_close(j, '}');
}

enum wf_status wf_report_learn_json(const struct wf_learning *l, const char *written, char **out,
                                    struct wf_error *e)
{
    struct wf_text text = {0};
    struct wf_json_put j = {.out = &text};
    char day[WF_DATE_TEXT_MAX];
    double none = (double)NAN;
    const struct wf_range interval = {l->fall_low, l->fall_high, none};
    wf_put_open(&j, NULL, '{', false);
    wf_put_count(&j, "brews", l->brews);
    wf_put_count(&j, "left_out", l->left_out);
    wf_put_count(&j, "elsewhere", l->elsewhere);
    if (l->mixed)
        wf_put_bool(&j, "mixed", true);
    if (l->brews > 0) {
        wf_put_string(&j, "first", wf_date_print(l->first, day));
        wf_put_string(&j, "last", wf_date_print(l->last, day));
    }
    put_learned(&j, "efficiency", &l->efficiency, NULL, l->gravity, NULL);
    put_learned(&j, "efficiency_fall", &l->fall, NULL, none, l->fall.value > 0 ? &interval : NULL);
    put_learned(&j, "evaporation_l_h", &l->evaporation, NULL, none, NULL);
    put_learned(&j, "bitterness_factor", &l->bitterness, NULL, none, NULL);
    put_learned(&j, "colour_factor", &l->colour, NULL, none, NULL);
    wf_put_open(&j, "yeasts", '[', false);
    for (size_t i = 0; i < l->yeast_count; i++)
        put_learned(&j, NULL, &l->yeasts[i].attenuation, l->yeasts[i].id, none, NULL);
    wf_put_close(&j, ']');
    wf_put_string(&j, "written", written);
    wf_put_close(&j, '}');
    return wf_text_hand_over(&text, out, e);
}
