/* report_sure.c: the figures of a beer with the range of each, for people and for programs. */
#include "report/report_parts.h"

#include "base/number.h"
#include "base/try.h"
#include "wortfit/sure.h"

#include <math.h>
#include <string.h>

/* ---- Text ------------------------------------------------------------------------------------ */

struct figure {
    const char *before;
    enum wf_dimension dimension;
    double value, low, high;
};

/* The figure without its unit, which stands beside it. */
static char *bare(const struct figure *f, double value, enum wf_units units, char *text,
                  size_t size)
{
    wf_quantity_print(f->dimension, value, units, text, size);
    text[strcspn(text, " ")] = '\0';
    return text;
}

static void add_figures(struct wf_text *out, const struct figure *figures, size_t count,
                        enum wf_units units)
{
    const char *comma = "";
    for (size_t i = 0; i < count; i++) {
        const struct figure *f = &figures[i];
        char value[64], low[64], high[64];
        if (isnan(f->value) || isnan(f->low) || isnan(f->high))
            continue;
        wf_text_add(out, "%s%s%s (%s..%s)", comma, f->before,
                    wf_quantity_print(f->dimension, f->value, units, value, sizeof value),
                    bare(f, f->low, units, low, sizeof low),
                    bare(f, f->high, units, high, sizeof high));
        comma = ", ";
    }
}

void wf_part_ranges(struct wf_text *out, const struct wf_recipe *r, const struct wf_report_style *s)
{
    const struct wf_beer *b = &r->predicted, *low = &r->ranges->low, *high = &r->ranges->high;
    const struct figure gravity[] = {
        {"original gravity ", WF_DIM_GRAVITY, b->og, low->og, high->og},
        {"final ", WF_DIM_GRAVITY, b->fg, low->fg, high->fg},
    };
    const struct figure colour[] = {
        {"alcohol ", WF_DIM_SHARE, b->abv, low->abv, high->abv},
        {"colour ", WF_DIM_BEER_COLOUR, b->srm, low->srm, high->srm},
    };
    const struct figure bitter[] = {
        {"bitterness ", WF_DIM_BITTERNESS, b->ibu, low->ibu, high->ibu},
        {"ratio ", WF_DIM_NUMBER, b->ratio, low->ratio, high->ratio},
    };
    add_figures(out, gravity, WF_COUNT_OF(gravity), s->units);
    wf_text_add(out, "\n");
    add_figures(out, colour, WF_COUNT_OF(colour), s->units);
    wf_text_add(out, ", %.0f EBC (%.0f..%.0f)\n", b->ebc, low->ebc, high->ebc);
    add_figures(out, bitter, WF_COUNT_OF(bitter), s->units);
    wf_text_add(out, "\nin brackets: the %.3g %% range of brews, by the spreads of the brewhouse\n",
                100 * r->ranges->probability);
}

/* ---- JSON ------------------------------------------------------------------------------------ */

/* Drawn figures have some three digits that mean something. */
static void put_rounded(struct wf_json_put *j, const char *key, double value)
{
    wf_put_number(j, key, round(value * 1e6) / 1e6);
}

void wf_put_ranges(struct wf_json_put *j, const struct wf_recipe *r)
{
    if (r->ranges == NULL)
        return;
    const struct wf_beer *low = &r->ranges->low, *high = &r->ranges->high;
    const struct {
        const char *key;
        double low, high;
    } figures[] = {
        {"og", low->og, high->og},
        {"fg", low->fg, high->fg},
        {"plato", low->plato, high->plato},
        {"abv", low->abv, high->abv},
        {"srm", low->srm, high->srm},
        {"ebc", low->ebc, high->ebc},
        {"ibu", low->ibu, high->ibu},
        {"ratio", low->ratio, high->ratio},
        {"attenuation", low->attenuation, high->attenuation},
    };
    wf_put_open(j, "ranges", '{', false);
    wf_put_number(j, "probability", r->ranges->probability);
    for (size_t i = 0; i < WF_COUNT_OF(figures); i++) {
        if (isnan(figures[i].low))
            continue;
        wf_put_open(j, figures[i].key, '{', true);
        put_rounded(j, "low", figures[i].low);
        put_rounded(j, "high", figures[i].high);
        wf_put_close(j, '}');
    }
    put_rounded(j, "sure_each", r->ranges->each);
    put_rounded(j, "sure_all", r->ranges->all);
    wf_put_close(j, '}');
}
