/* recipe_predict.c: from weights and figures to the beer, the character and the cost. */
#include "wortfit/pantry.h"

#include "base/alloc.h"
#include "base/try.h"

#include <math.h>
#include <string.h>

/* ---- The beer -------------------------------------------------------------------------------- */

/* The recipe's lines as the laws want them: side by side. */
struct lines {
    struct wf_grain *grains;
    double *kg;
    struct wf_addition *additions;
    double *grams, *ibu;
};

static void lines_free(struct lines *l)
{
    wf_free(l->grains);
    wf_free(l->kg);
    wf_free(l->additions);
    wf_free(l->grams);
    wf_free(l->ibu);
}

static bool lines_fill(struct lines *l, const struct wf_recipe *r)
{
    l->grains = wf_alloc(r->malt_count, sizeof *l->grains);
    l->kg = wf_alloc(r->malt_count, sizeof *l->kg);
    l->additions = wf_alloc(r->hop_count, sizeof *l->additions);
    l->grams = wf_alloc(r->hop_count, sizeof *l->grams);
    l->ibu = wf_alloc(r->hop_count, sizeof *l->ibu);
    if (!l->grains || !l->kg || !l->additions || !l->grams || !l->ibu)
        return false;
    for (size_t i = 0; i < r->malt_count; i++) {
        l->grains[i] = r->malts[i].grain;
        l->kg[i] = r->malts[i].kg;
    }
    for (size_t i = 0; i < r->hop_count; i++) {
        l->additions[i] = r->hops[i].addition;
        l->grams[i] = r->hops[i].grams;
    }
    return true;
}

static double total_kg(const struct wf_recipe *r)
{
    double kg = 0;
    for (size_t i = 0; i < r->malt_count; i++)
        kg += r->malts[i].kg;
    return kg;
}

static enum wf_status predict_beer(struct wf_recipe *r, struct wf_error *e)
{
    struct lines l = {0};
    struct wf_beer beer = {0};
    enum wf_status status = WF_MEMORY;
    if (lines_fill(&l, r))
        status = wf_beer_predict(&r->kettle, l.grains, l.kg, r->malt_count, l.additions, l.grams,
                                 r->hop_count, r->yeast.attenuation, &beer, l.ibu);
    if (status == WF_OK) {
        r->predicted = beer;
        for (size_t i = 0; i < r->hop_count; i++)
            r->hops[i].ibu = l.ibu[i];
    } else if (status == WF_MEMORY) {
        wf_error_add(e, status, "out of memory while reckoning a recipe");
    } else {
        wf_error_add(e, status,
                     "recipe \"%s\": %.3g kg of malts in %.3g L make no beer that the laws of "
                     "brewing cover: "
                     "gravities up to %.3f, colours of malt up to 1000 Lov",
                     r->name ? r->name : "", total_kg(r), r->kettle.batch_l, WF_GRAVITY_MOST);
    }
    lines_free(&l);
    return status;
}

/* ---- Character ------------------------------------------------------------------------------- */

static bool is_late(const struct wf_addition *a)
{
    return a->use == WF_HOP_STAND || a->use == WF_HOP_DRY ||
           (a->use == WF_HOP_BOIL && a->minutes <= WF_LATE_HOP_MINUTES);
}

static void set_character(struct wf_recipe *r)
{
    memset(r->character, 0, sizeof r->character);
    for (size_t i = 0; i < r->malt_count; i++) {
        const struct wf_recipe_malt *m = &r->malts[i];
        for (int w = 0; w < WF_MALT_WORD_COUNT; w++)
            r->character[w] += m->share / m->usual_most * m->character[w];
    }
    for (size_t i = 0; i < r->hop_count; i++) {
        const struct wf_recipe_hop *h = &r->hops[i];
        double dose = is_late(&h->addition) ? h->grams / r->kettle.batch_l : 0;
        for (int w = WF_MALT_WORD_COUNT; w < WF_WORD_COUNT; w++)
            r->character[w] += dose / WF_LATE_HOP_DOSE * h->character[w - WF_MALT_WORD_COUNT];
    }
}

/* ---- Cost and count -------------------------------------------------------------------------- */

/* Adds a line's cost; the first line of a lot counts it as an ingredient. */
static void add_line(struct wf_recipe *r, double cost, bool first)
{
    if (!isnan(cost))
        r->cost += cost;
    r->ingredients += first;
    r->unpriced += first && isnan(cost);
}

static bool first_malt(const struct wf_recipe *r, size_t i)
{
    for (size_t k = 0; k < i; k++)
        if (strcmp(r->malts[k].id, r->malts[i].id) == 0)
            return false;
    return true;
}

static bool first_hop(const struct wf_recipe *r, size_t i)
{
    for (size_t k = 0; k < i; k++)
        if (strcmp(r->hops[k].id, r->hops[i].id) == 0)
            return false;
    return true;
}

static void set_cost(struct wf_recipe *r)
{
    r->cost = 0;
    r->ingredients = r->unpriced = 0;
    for (size_t i = 0; i < r->malt_count; i++)
        add_line(r, r->malts[i].cost, first_malt(r, i));
    for (size_t i = 0; i < r->hop_count; i++)
        add_line(r, r->hops[i].cost, first_hop(r, i));
    if (r->yeast.id)
        add_line(r, r->yeast.cost, true);
}

enum wf_status wf_recipe_predict(struct wf_recipe *r, struct wf_error *e)
{
    double kg = total_kg(r);
    WF_TRY(predict_beer(r, e));
    for (size_t i = 0; i < r->malt_count; i++)
        r->malts[i].share = r->malts[i].kg / kg;
    set_character(r);
    set_cost(r);
    return WF_OK;
}
