/* report_brewed.c: see report_brewed.h. */
#include "report/report_brewed.h"

#include "base/date.h"
#include "base/number.h"
#include "base/try.h"
#include "report/json_put.h"
#include "report/table.h"
#include "wortfit/solve.h" /* wf_text_release */

#include <math.h>
#include <string.h>

/* ---- Figures against the plan ---------------------------------------------------------------- */

struct figure {
    const char *name;
    enum wf_dimension dimension;
    double planned, got;
    bool measured; /* else `got` is what the laws give for the wort as it was measured */
};
#define FIGURES_MOST 9

/* A figure that was measured, or else what the laws give now. */
static struct figure figure_of(const char *name, enum wf_dimension d, double planned,
                               double measured, double reckoned)
{
    bool known = !isnan(measured);
    return (struct figure){name, d, planned, known ? measured : reckoned, known};
}

static size_t list_figures(const struct wf_brewed_view *v, struct figure out[FIGURES_MOST])
{
    const struct wf_measured *m = &v->measured;
    const struct wf_kettle *k = &v->recipe->kettle;
    const struct wf_brew_figures *f = &v->figures;
    double none = (double)NAN;
    const struct figure all[FIGURES_MOST] = {
        {"original gravity", WF_DIM_GRAVITY, v->planned.og, m->og, true},
        {"volume", WF_DIM_VOLUME, k->batch_l, m->volume_l, true},
        {"efficiency", WF_DIM_SHARE, k->efficiency, f->efficiency, true},
        {"boil", WF_DIM_TIME, k->boil_minutes, m->boil_minutes, true},
        {"evaporation", WF_DIM_RATE, k->evaporation_l_h, f->evaporation_l_h, true},
        figure_of("colour", WF_DIM_BEER_COLOUR, v->planned.srm, m->srm, f->beer.srm),
        figure_of("bitterness", WF_DIM_BITTERNESS, v->planned.ibu, m->ibu, f->beer.ibu),
        figure_of("final gravity", WF_DIM_GRAVITY, v->planned.fg, m->fg, f->beer.fg),
        figure_of("yeast's attenuation", WF_DIM_SHARE, v->recipe->yeast.attenuation, f->attenuation,
                  none),
    };
    size_t count = 0;
    for (size_t i = 0; i < FIGURES_MOST; i++)
        if (!isnan(all[i].got))
            out[count++] = all[i];
    return count;
}

/* "-1.0 points", "+0.5 L", "as planned". */
static void difference_cell(struct wf_table *t, const struct figure *f, enum wf_units units)
{
    char size[48], zero[48];
    double by = f->got - f->planned;
    if (isnan(by)) {
        wf_table_cell(t, "-");
        return;
    }
    if (f->dimension == WF_DIM_GRAVITY) {
        wf_snprintf(size, sizeof size, "%.1f points", fabs(1000 * by));
        wf_snprintf(zero, sizeof zero, "0.0 points");
    } else {
        wf_style_figure(f->dimension, fabs(by), units, size, sizeof size);
        wf_style_figure(f->dimension, 0, units, zero, sizeof zero);
    }
    if (strcmp(size, zero) == 0)
        wf_table_cell(t, "as planned");
    else
        wf_table_cell(t, "%s%s", by < 0 ? "-" : "+", size);
}

static void add_figures(struct wf_text *out, const struct wf_brewed_view *v,
                        const struct wf_report_style *s)
{
    static const struct wf_column columns[] = {{.title = ""},
                                               {"planned", true, 0},
                                               {"brewed", true, 0},
                                               {"difference", true, 0},
                                               {.title = ""}};
    struct wf_table t = {.columns = columns, .column_count = WF_COUNT_OF(columns)};
    struct figure all[FIGURES_MOST];
    size_t count = list_figures(v, all);
    wf_table_titles(&t);
    for (size_t i = 0; i < count; i++) {
        wf_table_cell(&t, "%s", all[i].name);
        wf_table_figure(&t, all[i].dimension, all[i].planned, s->units);
        wf_table_figure(&t, all[i].dimension, all[i].got, s->units);
        difference_cell(&t, &all[i], s->units);
        wf_table_cell(&t, "%s", all[i].measured ? "" : "reckoned from the wort");
    }
    wf_table_write(&t, s, 0, out);
}

/* ---- Stock ----------------------------------------------------------------------------------- */

/* What of a lot was taken and is left: kg, or packs. */
struct drawn {
    enum wf_kind kind;
    const char *id;
    double took, left;
    bool enough; /* for the same once more */
};

static double amount_of(const struct wf_store *s, enum wf_kind kind, const char *id)
{
    const struct wf_malt *m = kind == WF_KIND_MALT ? wf_store_malt(s, id) : NULL;
    const struct wf_hop *h = kind == WF_KIND_HOP ? wf_store_hop(s, id) : NULL;
    const struct wf_yeast *y = kind == WF_KIND_YEAST ? wf_store_yeast(s, id) : NULL;
    return m ? m->have_kg : h ? h->have_g / 1000 : y ? y->have : 0;
}

static struct drawn drawn_at(const struct wf_brewed *b, size_t i)
{
    static const double slack = 1e-6; /* a milligram, or as little of a pack */
    enum wf_kind kind = b->outcomes[i].kind;
    const char *id = b->taken[i].id;
    double left = amount_of(b->after, kind, id);
    double took = amount_of(b->before, kind, id) - left;
    return (struct drawn){kind, id, took, left, left + slack >= took};
}

static enum wf_dimension dimension_of(enum wf_kind kind)
{
    return kind == WF_KIND_YEAST ? WF_DIM_NUMBER : WF_DIM_MASS;
}

static void drawn_row(struct wf_table *t, const struct drawn *d, enum wf_units units)
{
    char took[48], left[48];
    wf_table_cell(t, "%s", d->id);
    wf_table_cell(t, "%s",
                  wf_style_figure(dimension_of(d->kind), d->took, units, took, sizeof took));
    if (d->left > 0)
        wf_table_cell(t, "%s",
                      wf_style_figure(dimension_of(d->kind), d->left, units, left, sizeof left));
    else
        wf_table_cell(t, "none");
    wf_table_cell(t, "%s", d->enough ? "" : d->left > 0 ? "too little for another" : "used up");
    if (!d->enough)
        wf_table_mark(t, WF_MARK_BAD);
}

static void add_stock(struct wf_text *out, const struct wf_brewed *b,
                      const struct wf_report_style *s)
{
    static const struct wf_column columns[] = {
        {.title = "Taken from the store"}, {"took", true, 0}, {"left", true, 0}, {.title = ""}};
    struct wf_table t = {.columns = columns, .column_count = WF_COUNT_OF(columns)};
    wf_text_add(out, "\n");
    wf_table_titles(&t);
    for (size_t i = 0; i < b->taken_count; i++) {
        struct drawn d = drawn_at(b, i);
        drawn_row(&t, &d, s->units);
    }
    for (const char *const *id = b->uncounted; *id; id++) {
        wf_table_cell(&t, "%s", *id);
        wf_table_cell(&t, "-");
        wf_table_cell(&t, "-");
        wf_table_cell(&t, "its amount is not kept");
    }
    wf_table_write(&t, s, 0, out);
}

/* ---- The whole ------------------------------------------------------------------------------- */

enum wf_status wf_report_brewed_text(const struct wf_brewed_view *v,
                                     const struct wf_report_style *s, char **out,
                                     struct wf_error *e)
{
    struct wf_text text = {0};
    char day[WF_DATE_TEXT_MAX], line[WF_PLAIN_MOST], kept[48];
    wf_snprintf(line, sizeof line, "%s, brewed on %s", v->recipe->name, wf_date_print(v->on, day));
    wf_style_line(&text, s, WF_MARK_STRONG, line);
    wf_text_add(&text, "\n");
    add_figures(&text, v, s);
    if (v->left_l > 0)
        wf_text_add(&text, "Of the volume, %s was left in the kettle.\n",
                    wf_style_figure(WF_DIM_VOLUME, v->left_l, s->units, kept, sizeof kept));
    if (v->brewed)
        add_stock(&text, v->brewed, s);
    wf_text_add(&text, "\nWritten down in ");
    wf_plain_add(&text, v->log);
    wf_text_add(&text, " as %s.\n", v->id);
    return wf_text_hand_over(&text, out, e);
}

/* ---- JSON ------------------------------------------------------------------------------------ */

static void put_figures(struct wf_json_put *j, const struct wf_brewed_view *v)
{
    struct figure all[FIGURES_MOST];
    size_t count = list_figures(v, all);
    wf_put_open(j, "figures", '[', false);
    for (size_t i = 0; i < count; i++) {
        wf_put_open(j, NULL, '{', true);
        wf_put_string(j, "figure", all[i].name);
        wf_put_number(j, "planned", all[i].planned);
        wf_put_number(j, "brewed", all[i].got);
        wf_put_bool(j, "measured", all[i].measured);
        wf_put_close(j, '}');
    }
    wf_put_close(j, ']');
}

static void put_stock(struct wf_json_put *j, const struct wf_brewed *b)
{
    static const char *const kinds[WF_KIND_COUNT] = {"malt", "hop", "yeast"};
    wf_put_open(j, "stock", '[', false);
    for (size_t i = 0; i < b->taken_count; i++) {
        struct drawn d = drawn_at(b, i);
        bool packs = d.kind == WF_KIND_YEAST;
        wf_put_open(j, NULL, '{', true);
        wf_put_string(j, "id", d.id);
        wf_put_string(j, "kind", kinds[d.kind]);
        wf_put_number(j, packs ? "took_packs" : "took_kg", round(d.took * 1e9) / 1e9);
        wf_put_number(j, packs ? "left_packs" : "left_kg", round(d.left * 1e9) / 1e9);
        wf_put_bool(j, "enough_for_another", d.enough);
        wf_put_close(j, '}');
    }
    wf_put_close(j, ']');
    wf_put_open(j, "uncounted", '[', true);
    for (const char *const *id = b->uncounted; *id; id++)
        wf_put_string(j, NULL, *id);
    wf_put_close(j, ']');
}

enum wf_status wf_report_brewed_json(const struct wf_brewed_view *v, char **out, struct wf_error *e)
{
    struct wf_text text = {0};
    struct wf_json_put j = {.out = &text};
    char day[WF_DATE_TEXT_MAX];
    wf_put_open(&j, NULL, '{', false);
    wf_put_string(&j, "brew", v->id);
    wf_put_string(&j, "on", wf_date_print(v->on, day));
    wf_put_string(&j, "recipe", v->recipe->name);
    wf_put_string(&j, "log", v->log);
    put_figures(&j, v);
    if (v->brewed)
        put_stock(&j, v->brewed);
    wf_put_close(&j, '}');
    return wf_text_hand_over(&text, out, e);
}
