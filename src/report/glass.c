/* glass.c: see glass.h. */
#include "report/glass.h"

#include "base/number.h"
#include "base/try.h"
#include "report/table.h"

#include <math.h>
#include <string.h>

#define NAME_MOST   24 /* code points; so a line fits the page in any units */
#define HOP_MOST    32
#define HOP_LEAST   26  /* beside doses in ounces a gallon */
#define INDEX_SHOWN 0.5 /* weakest index of character worth a line */
#define SAME_BATCH  1e-6

char *wf_glass_difference(enum wf_dimension d, double first, double second, enum wf_units units,
                          char *buffer, size_t size)
{
    char one[64], other[64], more[64];
    wf_style_figure(d, first, units, one, sizeof one);
    wf_style_figure(d, second, units, other, sizeof other);
    wf_style_figure(d, fabs(second - first), units, more, sizeof more);
    if (isnan(first) || isnan(second))
        wf_snprintf(buffer, size, "-");
    else if (strcmp(one, other) == 0 || !strpbrk(more, "123456789"))
        wf_snprintf(buffer, size, "same");
    else
        wf_snprintf(buffer, size, "%s%s", second < first ? "-" : "+", more);
    return buffer;
}

bool wf_glass_same_batch(const struct wf_comparison *c)
{
    double first = c->recipe[0]->kettle.batch_l, second = c->recipe[1]->kettle.batch_l;
    return fabs(first - second) <= SAME_BATCH * first;
}

static void add_difference(struct wf_table *t, enum wf_dimension d, double first, double second,
                           enum wf_units units)
{
    char text[64];
    wf_table_cell(t, "%s", wf_glass_difference(d, first, second, units, text, sizeof text));
}

/* Two figures, a dash where there is none of it, and how much more the second is. */
static void add_pair(struct wf_table *t, enum wf_dimension d, const double pair[2],
                     enum wf_units units)
{
    for (int which = 0; which < 2; which++)
        wf_table_figure(t, d, pair[which] > 0 ? pair[which] : (double)NAN, units);
    add_difference(t, d, pair[0], pair[1], units);
}

static void write_table(struct wf_text *out, struct wf_table *t, const struct wf_report_style *s)
{
    wf_text_add(out, "\n");
    wf_table_write(t, s, 0, out);
}

/* ---- Grist ----------------------------------------------------------------------------------- */

static void grist_by_weight(struct wf_text *out, const struct wf_comparison *c,
                            const char *const title[2], const struct wf_report_style *s)
{
    const struct wf_column columns[] = {{.title = "Grist", .most = (size_t)2 * NAME_MOST},
                                        {.title = title[0], .right = true},
                                        {.title = title[1], .right = true},
                                        {.title = "difference", .right = true}};
    struct wf_table t = {.columns = columns, .column_count = WF_COUNT_OF(columns)};
    wf_table_titles(&t);
    for (size_t i = 0; i < c->malt_count; i++) {
        wf_table_cell(&t, "%s", c->malts[i].name);
        add_pair(&t, WF_DIM_MASS, c->malts[i].kg, s->units);
    }
    write_table(out, &t, s);
}

static void grist_by_share(struct wf_text *out, const struct wf_comparison *c,
                           const char *const title[2], const struct wf_report_style *s)
{
    const struct wf_column columns[] = {
        {.title = "Grist", .most = NAME_MOST}, {.title = title[0], .right = true},
        {.title = title[1], .right = true},    {.title = "share", .right = true},
        {.title = "share", .right = true},     {.title = "difference", .right = true}};
    struct wf_table t = {.columns = columns, .column_count = WF_COUNT_OF(columns)};
    wf_table_titles(&t);
    for (size_t i = 0; i < c->malt_count; i++) {
        const struct wf_compared_malt *m = &c->malts[i];
        wf_table_cell(&t, "%s", m->name);
        for (int which = 0; which < 2; which++)
            wf_table_figure(&t, WF_DIM_MASS, m->kg[which] > 0 ? m->kg[which] : (double)NAN,
                            s->units);
        add_pair(&t, WF_DIM_SHARE, m->share, s->units);
    }
    write_table(out, &t, s);
}

void wf_glass_grist(struct wf_text *out, const struct wf_comparison *c, const char *const title[2],
                    const struct wf_report_style *s)
{
    if (wf_glass_same_batch(c))
        grist_by_weight(out, c, title, s);
    else
        grist_by_share(out, c, title, s);
}

/* ---- Hops ------------------------------------------------------------------------------------ */

/* "boil 60 min, Magnum", "dry, Cascade" */
static void add_addition(struct wf_table *t, const struct wf_compared_hop *h, enum wf_units units)
{
    static const char *const when[] = {[WF_HOP_FIRST_WORT] = "first wort",
                                       [WF_HOP_BOIL] = "boil",
                                       [WF_HOP_STAND] = "stand",
                                       [WF_HOP_DRY] = "dry"};
    bool timed = h->use == WF_HOP_BOIL || h->use == WF_HOP_STAND;
    char span[32] = "";
    if (timed)
        wf_quantity_print(WF_DIM_TIME, h->minutes, units, span, sizeof span);
    wf_table_cell(t, "%s%s%s, %s", when[h->use], timed ? " " : "", span, h->name);
}

/* Bitterness to a tenth; the unit stands in the title. */
static void add_ibu(struct wf_table *t, const struct wf_compared_hop *h, int which)
{
    if (h->grams[which] > 0 && h->use != WF_HOP_DRY)
        wf_table_cell(t, "%.1f", h->ibu[which]);
    else
        wf_table_cell(t, "-");
}

void wf_glass_hops(struct wf_text *out, const struct wf_comparison *c, const char *const title[2],
                   const struct wf_report_style *s)
{
    bool by_weight = wf_glass_same_batch(c);
    size_t most = by_weight || s->units == WF_UNITS_METRIC ? HOP_MOST : HOP_LEAST;
    const struct wf_column columns[] = {
        {.title = "Hops", .most = most},    {.title = title[0], .right = true},
        {.title = title[1], .right = true}, {.title = "difference", .right = true},
        {.title = "IBU", .right = true},    {.title = "IBU", .right = true}};
    struct wf_table t = {.columns = columns, .column_count = WF_COUNT_OF(columns)};
    if (c->hop_count == 0)
        return;
    wf_table_titles(&t);
    for (size_t i = 0; i < c->hop_count; i++) {
        const struct wf_compared_hop *h = &c->hops[i];
        const double kg[2] = {h->grams[0] / 1000, h->grams[1] / 1000};
        add_addition(&t, h, s->units);
        add_pair(&t, by_weight ? WF_DIM_MASS : WF_DIM_DOSE, by_weight ? kg : h->dose, s->units);
        for (int which = 0; which < 2; which++)
            add_ibu(&t, h, which);
    }
    write_table(out, &t, s);
}

/* ---- Figures --------------------------------------------------------------------------------- */

#define AT(member) offsetof(struct wf_beer, member)

static const struct {
    const char *label;
    enum wf_dimension dimension;
    size_t offset;
    bool whole; /* decimals mean nothing */
} figure_row[] = {
    {"original gravity", WF_DIM_GRAVITY, AT(og), false},
    {"final gravity", WF_DIM_GRAVITY, AT(fg), false},
    {"alcohol", WF_DIM_SHARE, AT(abv), false},
    {"colour", WF_DIM_BEER_COLOUR, AT(srm), false},
    {"colour, EBC", WF_DIM_NUMBER, AT(ebc), true},
    {"bitterness", WF_DIM_BITTERNESS, AT(ibu), false},
    {"bitterness ratio", WF_DIM_NUMBER, AT(ratio), false},
    {"diastatic power", WF_DIM_DIASTATIC, AT(lintner), true},
};

static double figure_of(const struct wf_beer *b, size_t row)
{
    const void *at = (const char *)b + figure_row[row].offset;
    double value = *(const double *)at;
    return figure_row[row].whole ? round(value) : value;
}

void wf_glass_figures(struct wf_text *out, const struct wf_comparison *c,
                      const char *const title[2], const struct wf_report_style *s)
{
    const struct wf_column columns[] = {{.title = "In the glass"},
                                        {.title = title[0], .right = true},
                                        {.title = title[1], .right = true},
                                        {.title = "difference", .right = true}};
    struct wf_table t = {.columns = columns, .column_count = WF_COUNT_OF(columns)};
    wf_table_titles(&t);
    for (size_t row = 0; row < WF_COUNT_OF(figure_row); row++) {
        double first = figure_of(&c->recipe[0]->predicted, row);
        double second = figure_of(&c->recipe[1]->predicted, row);
        if (isnan(first) && isnan(second))
            continue;
        wf_table_cell(&t, "%s", figure_row[row].label);
        wf_table_figure(&t, figure_row[row].dimension, first, s->units);
        wf_table_figure(&t, figure_row[row].dimension, second, s->units);
        add_difference(&t, figure_row[row].dimension, first, second, s->units);
    }
    write_table(out, &t, s);
}

/* ---- Character ------------------------------------------------------------------------------- */

void wf_glass_character(struct wf_text *out, const struct wf_comparison *c,
                        const char *const title[2], const struct wf_report_style *s)
{
    const struct wf_column columns[] = {{.title = "Character"},
                                        {.title = title[0], .right = true},
                                        {.title = title[1], .right = true},
                                        {.title = "difference", .right = true}};
    struct wf_table t = {.columns = columns, .column_count = WF_COUNT_OF(columns)};
    wf_table_titles(&t);
    for (int w = 0; w < WF_WORD_COUNT; w++) {
        double first = c->recipe[0]->character[w], second = c->recipe[1]->character[w];
        if (fmax(first, second) < INDEX_SHOWN)
            continue;
        wf_table_cell(&t, "%s", wf_word_name((enum wf_word)w));
        wf_table_cell(&t, "%.1f", first);
        wf_table_cell(&t, "%.1f", second);
        add_difference(&t, WF_DIM_NUMBER, round(10 * first) / 10, round(10 * second) / 10,
                       s->units);
    }
    write_table(out, &t, s);
}
