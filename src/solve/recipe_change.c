/* recipe_change.c: how far one recipe is from another, forwards: see revise.h. */
#include "wortfit/revise.h"

#include "model/change.h"

#include <math.h>

/* What of `to` a line of `from` is, and what a unit of change counts. */
static double line_change(double was, double is, double per_unit)
{
    bool gone = was > 0 && !(is > 0);
    return fabs(is - was) * per_unit + (gone ? WF_CHANGE_INGREDIENT : 0);
}

static double malt_change(const struct wf_recipe *from, const struct wf_recipe *to)
{
    double batch_l = to->kettle.batch_l, per_kg = wf_change_per_kg(from, batch_l), sum = 0;
    for (size_t i = 0; i < from->malt_count; i++) {
        double was = wf_change_malt_was(from, (int)i, batch_l), is = 0;
        for (size_t k = 0; k < to->malt_count; k++)
            if (wf_change_malt_of(from, &to->malts[k]) == (int)i)
                is += to->malts[k].kg;
        sum += line_change(was, is, per_kg);
    }
    for (size_t k = 0; k < to->malt_count; k++) {
        double unlike = wf_change_malt_unlike(from, &to->malts[k]);
        if (to->malts[k].kg > 0 && wf_change_malt_of(from, &to->malts[k]) < 0)
            sum += to->malts[k].kg * per_kg * unlike + wf_change_malt_comes(from, unlike);
    }
    return sum;
}

static double hop_change(const struct wf_recipe *from, const struct wf_recipe *to)
{
    double batch_l = to->kettle.batch_l, boil = to->kettle.boil_minutes, sum = 0;
    for (size_t i = 0; i < from->hop_count; i++) {
        double was = wf_change_hop_was(from, (int)i, batch_l, boil), is = 0;
        for (size_t k = 0; k < to->hop_count; k++)
            if (wf_change_hop_of(from, &to->hops[k], boil) == (int)i)
                is += to->hops[k].grams;
        sum += line_change(was, is, wf_change_per_gram(&from->hops[i].addition, batch_l));
    }
    for (size_t k = 0; k < to->hop_count; k++) {
        const struct wf_recipe_hop *h = &to->hops[k];
        double unlike = wf_change_hop_unlike(from, h);
        double per_gram = wf_change_per_gram(&h->addition, batch_l);
        if (h->grams > 0 && wf_change_hop_of(from, h, boil) < 0)
            sum += h->grams * per_gram * unlike + wf_change_hop_comes(from, unlike);
    }
    return sum;
}

double wf_recipe_change(const struct wf_recipe *from, const struct wf_recipe *to)
{
    const struct wf_yeast yeast = {.id = to->yeast.id,
                                   .of = to->yeast.of,
                                   .family = to->yeast.family,
                                   .ester = to->yeast.ester,
                                   .phenol = to->yeast.phenol};
    return malt_change(from, to) + hop_change(from, to) +
           wf_change_yeast(from, &yeast, to->yeast.attenuation);
}
