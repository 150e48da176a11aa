/* svg_bars.c: the grist by share, and the bitterness by addition. */
#include "report/sheet.h"
#include "report/svg_parts.h"

#include "base/alloc.h"
#include "base/number.h"

#include <math.h>
#include <stdlib.h>

static int greater_share(const void *a, const void *b)
{
    const struct wf_recipe_malt *const *x = a, *const *y = b;
    return ((*x)->share < (*y)->share) - ((*x)->share > (*y)->share);
}

void wf_svg_grist(struct wf_html *h, const struct wf_sheet *s)
{
    const struct wf_recipe *r = s->day->recipe;
    const struct wf_recipe_malt **order = wf_alloc(r->malt_count, sizeof *order);
    if (!order) {
        h->out->failed = true;
        return;
    }
    for (size_t i = 0; i < r->malt_count; i++)
        order[i] = &r->malts[i];
    qsort(order, r->malt_count, sizeof *order, greater_share);
    wf_svg_begin(h, "Grist by share", WF_SVG_ROW * (double)r->malt_count);
    for (size_t i = 0; i < r->malt_count; i++) {
        char figure[32];
        wf_snprintf(figure, sizeof figure, "%.1f %%", 100 * order[i]->share);
        wf_svg_bar(h, i, order[i]->name, figure, order[i]->share);
    }
    wf_svg_end(h, "Grist by share of weight");
    wf_free(order);
}

static bool gives_bitterness(const struct wf_brewday_addition *a)
{
    return a->what == WF_ADD_HOP && a->use != WF_HOP_DRY;
}

/* "60 min, Magnum": what tells two additions of one variety apart. */
static void label(const struct wf_brewday_addition *a, char *out, size_t size)
{
    if (a->use == WF_HOP_FIRST_WORT)
        wf_snprintf(out, size, "first wort, %s", a->name);
    else
        wf_snprintf(out, size, "%s%.4g min, %s", a->use == WF_HOP_STAND ? "stand " : "", a->to_go,
                    a->name);
}

void wf_svg_bitterness(struct wf_html *h, const struct wf_sheet *s)
{
    const struct wf_brewday *d = s->day;
    double total = d->recipe->predicted.ibu;
    size_t count = 0, row = 0;
    char text[WF_PLAIN_MOST], figure[48];
    for (size_t i = 0; i < d->addition_count; i++)
        count += gives_bitterness(&d->additions[i]);
    if (count == 0)
        return;
    wf_svg_begin(h, "Bitterness by addition", WF_SVG_ROW * (double)count);
    for (size_t i = 0; i < d->addition_count; i++) {
        const struct wf_brewday_addition *a = &d->additions[i];
        if (!gives_bitterness(a))
            continue;
        label(a, text, sizeof text);
        wf_snprintf(figure, sizeof figure, "%.1f IBU", a->ibu);
        wf_svg_bar(h, row++, text, figure, total > 0 ? a->ibu / total : 0);
    }
    wf_snprintf(text, sizeof text, "Bitterness by addition: %.1f IBU in all", total);
    wf_svg_end(h, text);
}
