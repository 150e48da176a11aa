/*
 * predict.c: from a recipe to the beer, by the coefficients that the model's rows are built of.
 */
#include "wortfit/brewing.h"

#include "base/try.h"
#include "brewing/range.h"

#define EFFICIENCY_MOST 1.0
#define FORM_MOST       1.5
#define LOVIBOND_MOST   1000.0
#define LINTNER_MOST    1000.0
#define FACTOR_MOST     10.0 /* of bitterness or colour: past that a figure is a slip */

static bool kettle_is_good(const struct wf_kettle *k)
{
    return wf_within(k->batch_l, 0, HUGE_VAL) && k->batch_l > 0 &&
           wf_within(k->efficiency, 0, EFFICIENCY_MOST) &&
           wf_within(k->boil_minutes, 0, HUGE_VAL) && wf_within(k->evaporation_l_h, 0, HUGE_VAL) &&
           wf_within(k->stand_minutes, 0, HUGE_VAL) &&
           wf_within(k->bitterness_factor, 0, FACTOR_MOST) &&
           wf_within(k->colour_factor, 0, FACTOR_MOST);
}

static double factor_of(double given)
{
    return given > 0 ? given : 1;
}

/* ---- Coefficients of the model's rows -------------------------------------------------------- */

enum wf_status wf_extract_per_kg(const struct wf_grain *g, const struct wf_kettle *k, double *kg)
{
    if (!kettle_is_good(k) || !wf_within(g->yield, 0, 1))
        return WF_OUT_OF_RANGE;
    *kg = g->yield * (g->mashed ? k->efficiency : 1);
    return WF_OK;
}

enum wf_status wf_mcu_per_kg(const struct wf_grain *g, const struct wf_kettle *k, double *mcu)
{
    if (!kettle_is_good(k) || !wf_within(g->lovibond, 0, LOVIBOND_MOST))
        return WF_OUT_OF_RANGE;
    double value;
    WF_TRY(wf_mcu_from_weights(g->lovibond, k->batch_l, &value));
    return wf_give(value * wf_mcu_factor(factor_of(k->colour_factor)), mcu);
}

enum wf_status wf_residue_per_kg(const struct wf_grain *g, const struct wf_kettle *k,
                                 double attenuation, double *kg)
{
    double extract, share;
    WF_TRY(wf_extract_per_kg(g, k, &extract));
    WF_TRY(wf_residual_share(attenuation, g->fermentability, g->sugar, &share));
    *kg = extract * share;
    return WF_OK;
}

enum wf_status wf_boil_gravity(double og, const struct wf_kettle *k, double *sg)
{
    double extract, before;
    if (!kettle_is_good(k))
        return WF_OUT_OF_RANGE;
    double evaporated = k->evaporation_l_h * k->boil_minutes / 60;
    WF_TRY(wf_extract_from_gravity(og, &extract));
    WF_TRY(wf_gravity_from_extract(extract * (k->batch_l / (k->batch_l + evaporated)), &before));
    *sg = (before + og) / 2;
    return WF_OK;
}

enum wf_status wf_addition_minutes(const struct wf_addition *a, const struct wf_kettle *k,
                                   double *minutes)
{
    if (!kettle_is_good(k))
        return WF_OUT_OF_RANGE;
    switch (a->use) {
    case WF_HOP_FIRST_WORT:
        *minutes = k->boil_minutes + k->stand_minutes;
        return WF_OK;
    case WF_HOP_BOIL:
        if (!wf_within(a->minutes, 0, k->boil_minutes))
            return WF_OUT_OF_RANGE;
        *minutes = a->minutes + k->stand_minutes;
        return WF_OK;
    case WF_HOP_STAND:
        return wf_stand_boil_minutes(a->minutes, a->celsius, minutes);
    case WF_HOP_DRY:
        *minutes = 0;
        return WF_OK;
    case WF_HOP_USE_COUNT:
        break;
    }
    return WF_OUT_OF_RANGE;
}

enum wf_status wf_ibu_per_gram(const struct wf_addition *a, const struct wf_kettle *k,
                               double boil_gravity, double *ibu)
{
    double minutes, utilisation;
    if (!wf_within(a->alpha, 0, 1) || !wf_within(a->form, 0, FORM_MOST))
        return WF_OUT_OF_RANGE;
    WF_TRY(wf_addition_minutes(a, k, &minutes));
    WF_TRY(wf_utilisation(k->law, boil_gravity, minutes, &utilisation));
    return wf_give(factor_of(k->bitterness_factor) * 1000 * utilisation * a->form * a->alpha /
                       k->batch_l,
                   ibu);
}

/* ---- Sums over the recipe -------------------------------------------------------------------- */

struct grist {
    double extract, mcu, residue; /* kg, MCU, kg; residue is NaN without a yeast */
    double mashed, lintner;       /* kg, kg x Lintner */
};

static enum wf_status add_grain(const struct wf_grain *g, double kg, const struct wf_kettle *k,
                                double attenuation, struct grist *sum)
{
    double extract, mcu, residue = (double)NAN;
    if (!wf_within(kg, 0, HUGE_VAL) || !wf_within(g->lintner, 0, LINTNER_MOST))
        return WF_OUT_OF_RANGE;
    WF_TRY(wf_extract_per_kg(g, k, &extract));
    WF_TRY(wf_mcu_per_kg(g, k, &mcu));
    if (!isnan(attenuation))
        WF_TRY(wf_residue_per_kg(g, k, attenuation, &residue));
    sum->extract += kg * extract;
    sum->mcu += kg * mcu;
    sum->residue += kg * residue;
    if (g->mashed) {
        sum->mashed += kg;
        sum->lintner += kg * g->lintner;
    }
    return WF_OK;
}

static enum wf_status predict_wort(const struct grist *sum, const struct wf_kettle *k,
                                   struct wf_beer *beer)
{
    if (!(sum->extract > 0))
        return WF_OUT_OF_RANGE;
    WF_TRY(wf_gravity_from_extract(sum->extract / k->batch_l, &beer->og));
    WF_TRY(wf_plato_from_gravity(beer->og, &beer->plato));
    if (!(beer->plato > 0)) /* water, but for rounding */
        return WF_OUT_OF_RANGE;
    WF_TRY(wf_srm_from_mcu(sum->mcu, &beer->srm));
    beer->ebc = wf_ebc_from_srm(beer->srm);
    beer->lintner = sum->mashed > 0 ? sum->lintner / sum->mashed : (double)NAN;
    return WF_OK;
}

static enum wf_status predict_fermentation(const struct grist *sum, struct wf_beer *beer)
{
    double apparent, abw;
    if (isnan(sum->residue))
        return WF_OK;
    double real = beer->plato * (sum->residue / sum->extract);
    WF_TRY(wf_apparent_extract(beer->plato, real, &apparent));
    WF_TRY(wf_gravity_from_plato(apparent, &beer->fg));
    WF_TRY(wf_alcohol_by_weight(beer->plato, real, &abw));
    WF_TRY(wf_alcohol_by_volume(abw, beer->fg, &beer->abv));
    beer->attenuation = (beer->plato - apparent) / beer->plato;
    return WF_OK;
}

static enum wf_status predict_bitterness(const struct wf_kettle *k,
                                         const struct wf_addition *additions, const double *grams,
                                         size_t count, struct wf_beer *beer, double *ibu_each)
{
    beer->ibu = 0;
    WF_TRY(wf_boil_gravity(beer->og, k, &beer->boil_gravity));
    for (size_t i = 0; i < count; i++) {
        double per_gram;
        if (!wf_within(grams[i], 0, HUGE_VAL))
            return WF_OUT_OF_RANGE;
        WF_TRY(wf_ibu_per_gram(&additions[i], k, beer->boil_gravity, &per_gram));
        beer->ibu += grams[i] * per_gram;
        if (ibu_each)
            ibu_each[i] = grams[i] * per_gram;
    }
    return wf_bitterness_ratio(beer->ibu, beer->og, &beer->ratio);
}

enum wf_status wf_beer_predict(const struct wf_kettle *k, const struct wf_grain *grains,
                               const double *kg, size_t grain_count,
                               const struct wf_addition *additions, const double *grams,
                               size_t addition_count, double attenuation, struct wf_beer *beer,
                               double *ibu_each)
{
    struct grist sum = {0};
    struct wf_beer b = {.fg = (double)NAN, .abv = (double)NAN, .attenuation = (double)NAN};
    for (size_t i = 0; i < grain_count; i++)
        WF_TRY(add_grain(&grains[i], kg[i], k, attenuation, &sum));
    WF_TRY(predict_wort(&sum, k, &b));
    WF_TRY(predict_fermentation(&sum, &b));
    WF_TRY(predict_bitterness(k, additions, grams, addition_count, &b, ibu_each));
    *beer = b;
    return WF_OK;
}
