/* sheet_measure.c: a reading to take, and a table of what mends it. */
#include "report/sheet.h"

#include "base/number.h"
#include "base/try.h"

#include <math.h>
#include <string.h>

static const struct wf_measuring *find(const struct wf_brewday *d, enum wf_measure what)
{
    for (size_t i = 0; i < d->point_count; i++)
        if (d->points[i].what == what)
            return &d->points[i];
    return NULL;
}

static enum wf_dimension dimension_of(enum wf_measure what)
{
    static const enum wf_dimension of[WF_MEASURE_COUNT] = {
        [WF_MEASURE_MASH] = WF_DIM_TEMPERATURE,  [WF_MEASURE_FIRST] = WF_DIM_GRAVITY,
        [WF_MEASURE_BEFORE] = WF_DIM_GRAVITY,    [WF_MEASURE_BEFORE_L] = WF_DIM_VOLUME,
        [WF_MEASURE_AFTER] = WF_DIM_GRAVITY,     [WF_MEASURE_AFTER_L] = WF_DIM_VOLUME,
        [WF_MEASURE_PITCH] = WF_DIM_TEMPERATURE, [WF_MEASURE_FINAL] = WF_DIM_GRAVITY,
    };
    return of[what];
}

#define ADVICE_MOST 200

/* What is added after the boil must be boiled too. */
static void say_water(struct wf_sheet *s, enum wf_measure what, const struct wf_correction *r,
                      char *out)
{
    if (isnan(r->water_celsius))
        wf_snprintf(out, ADVICE_MOST, "add %s of %swater",
                    wf_sheet_about(s, WF_DIM_VOLUME, r->water_l),
                    what == WF_MEASURE_AFTER || what == WF_MEASURE_AFTER_L ? "boiled " : "");
    else
        wf_snprintf(out, ADVICE_MOST, "stir in %s of water at %s",
                    wf_sheet_about(s, WF_DIM_VOLUME, r->water_l),
                    wf_sheet_figure(s, WF_DIM_TEMPERATURE, r->water_celsius));
}

#define LONGER_MOST 60.0 /* min: what nobody boils longer than */

static bool is_volume(enum wf_measure what)
{
    return what == WF_MEASURE_BEFORE_L || what == WF_MEASURE_AFTER_L;
}

/* "boil 12 min longer (leaves 18.9 L), or 340 g of light dry malt extract" */
static void say_stronger(struct wf_sheet *s, const struct wf_correction *r, char *out)
{
    size_t used = 0;
    *out = '\0';
    if (r->minutes <= LONGER_MOST)
        wf_snprintf(out, ADVICE_MOST, "boil %s longer (leaves %s)",
                    wf_sheet_about(s, WF_DIM_TIME, r->minutes),
                    wf_sheet_about(s, WF_DIM_VOLUME, r->left_l));
    used = strlen(out);
    if (!isnan(r->extract_kg))
        wf_snprintf(out + used, ADVICE_MOST - used, "%s%s of light dry malt extract",
                    used ? ", or " : "boil in ", wf_sheet_about(s, WF_DIM_MASS, r->extract_kg));
    if (*out == '\0')
        wf_snprintf(out, ADVICE_MOST, "leave it: the gravity will be %s",
                    wf_sheet_figure(s, WF_DIM_GRAVITY, r->og));
}

static void say_final(struct wf_sheet *s, const struct wf_correction *r, char *out)
{
    const char *abv = wf_sheet_figure(s, WF_DIM_SHARE, r->abv);
    if (isnan(r->volumes))
        wf_snprintf(out, ADVICE_MOST, "drier than reckoned, %s: check for a wild yeast", abv);
    else
        wf_snprintf(out, ADVICE_MOST,
                    "%s so far; warm and rouse it, wait: bottled now, %s more may come", abv,
                    wf_sheet_figure(s, WF_DIM_CARBONATION, r->volumes));
}

static void say_first(const struct wf_correction *r, char *out)
{
    const char *next =
        r->converted >= 0.9 ? "good: go on" : "stir, rest 15 to 30 min more, test with iodine";
    wf_snprintf(out, ADVICE_MOST, "%.0f %% converted; %s", 100 * r->converted, next);
}

static void say(struct wf_sheet *s, enum wf_measure what, const struct wf_correction *r, char *out)
{
    if (what == WF_MEASURE_FIRST)
        say_first(r, out);
    else if (what == WF_MEASURE_FINAL)
        say_final(s, r, out);
    else if (!isnan(r->water_l))
        say_water(s, what, r, out);
    else
        say_stronger(s, r, out);
}

static void add_remedies(struct wf_sheet *s, const struct wf_measuring *m)
{
    static const struct wf_column columns[] = {{.title = "instead", .right = true},
                                               {.title = "do this"}};
    struct wf_column room[WF_COLUMNS_MOST];
    struct wf_table t = wf_sheet_table(s, columns, WF_COUNT_OF(columns), room);
    char advice[ADVICE_MOST];
    for (size_t i = 0; i < m->remedy_count; i++) {
        const struct wf_correction *r = &m->remedies[i];
        wf_table_cell(&t, "%s", wf_sheet_figure(s, dimension_of(m->what), r->reading));
        say(s, m->what, r, advice);
        if (is_volume(m->what))
            wf_table_cell(&t, "and %s: %s", wf_sheet_figure(s, WF_DIM_GRAVITY, r->beside_sg),
                          advice);
        else
            wf_table_cell(&t, "%s", advice);
    }
    wf_sheet_add_table(s, &t, wf_measure_name(m->what));
}

/* What else belongs to the reading. */
static void add_beside(struct wf_sheet *s, enum wf_measure what, char *out, size_t size)
{
    const struct wf_brewday_water *w = &s->day->water;
    *out = '\0';
    if (is_volume(what))
        wf_snprintf(out, size, " (hot %s)",
                    wf_sheet_about(s, WF_DIM_VOLUME,
                                   what == WF_MEASURE_BEFORE_L ? w->before_hot_l : w->after_hot_l));
    else if (what == WF_MEASURE_BEFORE && w->late_l > 0)
        wf_snprintf(out, size, ", the sugars not yet in");
    else if (what == WF_MEASURE_MASH && s->day->mash.rest_count > 1)
        wf_snprintf(out, size, " in the last rest");
    else if (what == WF_MEASURE_PITCH)
        wf_snprintf(
            out, size,
            " or a little more; warmer: cool on before you pitch; colder: let it warm first");
}

void wf_sheet_measure(struct wf_sheet *s, enum wf_measure what)
{
    const struct wf_measuring *m = find(s->day, what);
    char beside[120];
    if (!m)
        return;
    add_beside(s, what, beside, sizeof beside);
    wf_sheet_line(s, WF_LINE_READ, "%s %s%s", wf_measure_name(what),
                  wf_sheet_figure(s, dimension_of(what), m->expected), beside);
    if (m->remedy_count > 0)
        add_remedies(s, m);
}
