/* change_measure.c: which ingredient is which, and what a kilogram or a gram of change counts. */
#include "model/change.h"

#include "wortfit/revise.h"

#include <math.h>
#include <string.h>

/* ---- The same ingredient --------------------------------------------------------------------- */

static bool same_entry(const char *id, const char *of, const char *other_id, const char *other_of)
{
    return strcmp(id, other_id) == 0 || strcmp(of ? of : id, other_of ? other_of : other_id) == 0;
}

static bool alike(double a, double b)
{
    return fabs(a - b) <= 1e-9 * fmax(1, fabs(a));
}

static bool alike_all(const double *a, const double *b, int count)
{
    for (int i = 0; i < count; i++)
        if (!alike(a[i], b[i]))
            return false;
    return true;
}

static bool same_figures_malt(const struct wf_recipe_malt *a, const struct wf_recipe_malt *b)
{
    const struct wf_grain *x = &a->grain, *y = &b->grain;
    return a->class == b->class && x->sugar == y->sugar && x->mashed == y->mashed &&
           alike(x->yield, y->yield) && alike(x->lovibond, y->lovibond) &&
           alike(x->lintner, y->lintner) && alike(x->fermentability, y->fermentability) &&
           alike(a->usual_most, b->usual_most) &&
           alike_all(a->character, b->character, WF_MALT_WORD_COUNT);
}

static bool same_figures_hop(const struct wf_recipe_hop *a, const struct wf_recipe_hop *b)
{
    return a->whole == b->whole && alike(a->addition.alpha, b->addition.alpha) &&
           alike_all(a->character, b->character, WF_WORD_COUNT - WF_MALT_WORD_COUNT);
}

static bool same_time(const struct wf_addition *a, const struct wf_addition *b, double boil_minutes)
{
    if (a->use != b->use)
        return false;
    if (a->use == WF_HOP_BOIL)
        return fabs(fmin(a->minutes, boil_minutes) - fmin(b->minutes, boil_minutes)) < 1e-6;
    return a->use != WF_HOP_STAND ||
           (fabs(a->minutes - b->minutes) < 1e-6 && fabs(a->celsius - b->celsius) < 1e-6);
}

/* By name first: a lot that has the figures of one malt and the name of another is the latter. */
int wf_change_malt_of(const struct wf_recipe *r, const struct wf_recipe_malt *m)
{
    for (size_t i = 0; i < r->malt_count; i++)
        if (same_entry(r->malts[i].id, r->malts[i].of, m->id, m->of))
            return (int)i;
    for (size_t i = 0; i < r->malt_count; i++)
        if (same_figures_malt(&r->malts[i], m))
            return (int)i;
    return -1;
}

int wf_change_hop_of(const struct wf_recipe *r, const struct wf_recipe_hop *h, double boil_minutes)
{
    for (size_t i = 0; i < r->hop_count; i++)
        if (same_time(&r->hops[i].addition, &h->addition, boil_minutes) &&
            same_entry(r->hops[i].id, r->hops[i].of, h->id, h->of))
            return (int)i;
    for (size_t i = 0; i < r->hop_count; i++)
        if (same_time(&r->hops[i].addition, &h->addition, boil_minutes) &&
            same_figures_hop(&r->hops[i], h))
            return (int)i;
    return -1;
}

/* ---- Weights --------------------------------------------------------------------------------- */

double wf_change_malt_was(const struct wf_recipe *r, int line, double batch_l)
{
    double kg = 0;
    for (size_t i = 0; i < r->malt_count; i++)
        if (wf_change_malt_of(r, &r->malts[i]) == line)
            kg += r->malts[i].kg;
    return kg * batch_l / r->kettle.batch_l;
}

double wf_change_hop_was(const struct wf_recipe *r, int line, double batch_l, double boil_minutes)
{
    double grams = 0;
    for (size_t i = 0; i < r->hop_count; i++)
        if (wf_change_hop_of(r, &r->hops[i], boil_minutes) == line)
            grams += r->hops[i].grams;
    return grams * batch_l / r->kettle.batch_l;
}

double wf_change_per_kg(const struct wf_recipe *r, double batch_l)
{
    double kg = 0;
    for (size_t i = 0; i < r->malt_count; i++)
        kg += r->malts[i].kg;
    return kg > 0 ? r->kettle.batch_l / (WF_CHANGE_SHARE * kg * batch_l) : 0;
}

double wf_change_per_gram(const struct wf_addition *a, double batch_l)
{
    bool late = a->use == WF_HOP_STAND || a->use == WF_HOP_DRY ||
                (a->use == WF_HOP_BOIL && a->minutes <= WF_LATE_HOP_MINUTES);
    return (late ? 1 : WF_CHANGE_EARLY) / (WF_CHANGE_DOSE * batch_l);
}

static double scores_apart(const double *a, const double *b, int count)
{
    double sum = 0;
    for (int i = 0; i < count; i++)
        sum += fabs(a[i] - b[i]);
    return sum / WF_CHANGE_SCORES;
}

static bool malt_gone(const struct wf_recipe *r)
{
    for (size_t i = 0; i < r->malt_count; i++)
        if (r->malts[i].gone)
            return true;
    return false;
}

static bool hop_gone(const struct wf_recipe *r)
{
    for (size_t i = 0; i < r->hop_count; i++)
        if (r->hops[i].gone)
            return true;
    return false;
}

double wf_change_malt_unlike(const struct wf_recipe *r, const struct wf_recipe_malt *m)
{
    double least = WF_CHANGE_UNLIKE;
    bool gone = malt_gone(r);
    for (size_t i = 0; i < r->malt_count; i++) {
        const struct wf_recipe_malt *own = &r->malts[i];
        double unlike = WF_CHANGE_ALIKE + (own->class != m->class ? WF_CHANGE_CLASS : 0) +
                        scores_apart(own->character, m->character, WF_MALT_WORD_COUNT);
        if (own->gone == gone)
            least = fmin(least, unlike);
    }
    return gone ? least : fmax(1, least);
}

double wf_change_hop_unlike(const struct wf_recipe *r, const struct wf_recipe_hop *h)
{
    double least = WF_CHANGE_UNLIKE;
    bool gone = hop_gone(r);
    for (size_t i = 0; i < r->hop_count; i++) {
        const struct wf_recipe_hop *own = &r->hops[i];
        double unlike = WF_CHANGE_ALIKE + scores_apart(own->character, h->character,
                                                       WF_WORD_COUNT - WF_MALT_WORD_COUNT);
        if (own->gone == gone)
            least = fmin(least, unlike);
    }
    return gone ? least : fmax(1, least);
}

double wf_change_malt_comes(const struct wf_recipe *r, double unlike)
{
    return WF_CHANGE_INGREDIENT * (malt_gone(r) ? fmin(1, unlike) : 1);
}

double wf_change_hop_comes(const struct wf_recipe *r, double unlike)
{
    return WF_CHANGE_INGREDIENT * (hop_gone(r) ? fmin(1, unlike) : 1);
}

/* 0 where one of them is not known. */
static double apart(double a, double b)
{
    return isfinite(a) && isfinite(b) ? fabs(a - b) : 0;
}

double wf_change_yeast(const struct wf_recipe *r, const struct wf_yeast *y, double attenuation)
{
    if (!r->yeast.id || !y->id || same_entry(r->yeast.id, r->yeast.of, y->id, y->of))
        return 0;
    double aroma = apart(r->yeast.ester, y->ester) + apart(r->yeast.phenol, y->phenol);
    bool other = r->yeast.family && y->family && strcmp(r->yeast.family, y->family) != 0;
    return WF_CHANGE_YEAST + 100 * apart(r->yeast.attenuation, attenuation) +
           WF_CHANGE_AROMA * aroma + (other ? WF_CHANGE_FAMILY : 0);
}
