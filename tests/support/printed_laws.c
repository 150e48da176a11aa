/*
 * printed_laws.c: our laws in the units and by the inputs of the sources that tests/published/
 * quotes.
 */
#include "support/printed_laws.h"

#include "support/test.h"
#include "wortfit/brewing.h"

#define PER_LB_GAL (WF_KG_PER_LB / WF_L_PER_US_GAL) /* kg/L */
#define G_PER_OZ   (WF_KG_PER_OZ * 1000)

/* Every law in range: the files hold no point outside. */
static double must(enum wf_status status, double value)
{
    assert_int_equal(status, WF_OK);
    return value;
}

/* A law of one number that answers with a status. */
static double value_of(enum wf_status (*law)(double, double *), double in)
{
    double out = (double)NAN;
    enum wf_status status = law(in, &out);
    return must(status, out);
}

/* ---- Gravity --------------------------------------------------------------------------------- */

static double gravity_of_plato(const double *in, size_t n)
{
    (void)n;
    return value_of(wf_gravity_from_plato, in[0]);
}

static double plato_of_gravity(const double *in, size_t n)
{
    (void)n;
    return value_of(wf_plato_from_gravity, in[0]);
}

static double extract_of_plato(double plato)
{
    return value_of(wf_extract_from_gravity, value_of(wf_gravity_from_plato, plato));
}

static double lb_solids_per_gal(const double *in, size_t n)
{
    (void)n;
    return extract_of_plato(in[0]) / PER_LB_GAL;
}

static double lb_extract_per_bbl(const double *in, size_t n)
{
    (void)n;
    return extract_of_plato(in[0]) / PER_LB_GAL * 31; /* US beer barrel: 31 gal */
}

static double g_extract_per_100ml(const double *in, size_t n)
{
    (void)n;
    return value_of(wf_extract_from_gravity, in[0]) * 100;
}

static double points_of_lb_per_gal(const double *in, size_t n)
{
    (void)n;
    return wf_points(value_of(wf_gravity_from_extract, in[0] * PER_LB_GAL));
}

static double yield_of_analysis(const double *in, size_t n)
{
    (void)n;
    double yield = 0;
    enum wf_status status = wf_yield_from_analysis(in[0], in[1], &yield);
    return must(status, yield);
}

static double percent_of_ppg(const double *in, size_t n)
{
    (void)n;
    return value_of(wf_yield_from_potential, in[0]) * 100;
}

static double points_l_per_kg(const double *in, size_t n)
{
    (void)n;
    return value_of(wf_yield_from_potential, in[0]) * WF_SUCROSE_POINTS_L;
}

/* ---- Colour ---------------------------------------------------------------------------------- */

static double ebc_of_srm(const double *in, size_t n)
{
    (void)n;
    return wf_ebc_from_srm(in[0]);
}

static double srm_of_ebc(const double *in, size_t n)
{
    (void)n;
    return wf_srm_from_ebc(in[0]);
}

/* kg, Lovibond, litres */
static double mcu_of_kg_lov_l(const double *in, size_t n)
{
    (void)n;
    double mcu = 0;
    enum wf_status status = wf_mcu_from_weights(in[0] * in[1], in[2], &mcu);
    return must(status, mcu);
}

static double srm_of_mcu(const double *in, size_t n)
{
    (void)n;
    return value_of(wf_srm_from_mcu, in[0]);
}

static double lov_of_ebc(const double *in, size_t n)
{
    (void)n;
    return value_of(wf_lovibond_from_ebc, in[0]);
}

static double ebc_of_lov(const double *in, size_t n)
{
    (void)n;
    return value_of(wf_ebc_from_lovibond, in[0]);
}

/* ---- Bitterness ------------------------------------------------------------------------------ */

static double utilisation(enum wf_utilisation_law law, double gravity, double minutes)
{
    double share = 0;
    enum wf_status status = wf_utilisation(law, gravity, minutes, &share);
    return must(status, share);
}

/* boil gravity, minutes */
static double tinseth(const double *in, size_t n)
{
    (void)n;
    return utilisation(WF_TINSETH, in[0], in[1]);
}

static double tinseth_per_minute(const double *in, size_t n)
{
    (void)n;
    return utilisation(WF_TINSETH, in[0], in[1] + 0.5) -
           utilisation(WF_TINSETH, in[0], in[1] - 0.5);
}

static double rager(const double *in, size_t n)
{
    (void)n;
    return utilisation(WF_RAGER, in[0], in[1]);
}

/* Rager's GA: the law divides by 1 + GA. */
static double rager_gravity_adjustment(const double *in, size_t n)
{
    (void)n;
    return utilisation(WF_RAGER, 1.040, 60) / utilisation(WF_RAGER, in[0], 60) - 1;
}

static double ibu_per_gram(double alpha, double minutes, double gravity, double litres)
{
    struct wf_kettle k = {.batch_l = litres, .efficiency = 1, .boil_minutes = 120};
    struct wf_addition a = {.use = WF_HOP_BOIL, .alpha = alpha, .minutes = minutes, .form = 1};
    double ibu = 0;
    enum wf_status status = wf_ibu_per_gram(&a, &k, gravity, &ibu);
    return must(status, ibu);
}

/* Additions of: alpha in %, oz, minutes, boil gravity, gal. */
static double ibu_us(const double *in, size_t n)
{
    double sum = 0;
    for (const double *a = in; a + 5 <= in + n; a += 5)
        sum += a[1] * G_PER_OZ * ibu_per_gram(a[0] / 100, a[2], a[3], a[4] * WF_L_PER_US_GAL);
    return sum;
}

/* g, alpha in %, minutes, litres after the boil, gravity before and after it */
static double ibu_mean_gravity(const double *in, size_t n)
{
    (void)n;
    return in[0] * ibu_per_gram(in[1] / 100, in[2], (in[4] + in[5]) / 2, in[3]);
}

/* mg/L of alpha acid (all of it: utilisation divided out) of so many oz of it in so many gal */
static double mg_per_l_of_oz_per_gal(const double *in, size_t n)
{
    (void)n;
    return in[0] * G_PER_OZ * ibu_per_gram(1, 60, 1.050, in[1] * WF_L_PER_US_GAL) /
           utilisation(WF_TINSETH, 1.050, 60);
}

/* IBU, litres, utilisation as given, alpha in %: the weight of hops */
static double grams_for_ibu(const double *in, size_t n)
{
    (void)n;
    double per_gram = ibu_per_gram(in[3] / 100, 60, 1.050, in[1]);
    return in[0] / (per_gram * in[2] / utilisation(WF_TINSETH, 1.050, 60));
}

/* g, its alpha in %, the other's alpha in %: g of the other for the same bitterness */
static double grams_of_other_alpha(const double *in, size_t n)
{
    (void)n;
    return in[0] * ibu_per_gram(in[1] / 100, 60, 1.050, 20) /
           ibu_per_gram(in[2] / 100, 60, 1.050, 20);
}

static double isomerisation_rate(const double *in, size_t n)
{
    (void)n;
    return value_of(wf_isomerisation_rate, in[0]);
}

/* minutes, C */
static double stand_boil_minutes(const double *in, size_t n)
{
    (void)n;
    double minutes = 0;
    enum wf_status status = wf_stand_boil_minutes(in[0], in[1], &minutes);
    return must(status, minutes);
}

/* alpha, loss of six months in %, days, C */
static double alpha_left_open(const double *in, size_t n)
{
    (void)n;
    double left = 0;
    enum wf_status status =
        wf_alpha_after_storage(in[0] / 100, in[1] / 100, in[2], in[3], WF_PACKED_OPEN, &left);
    return must(status, left * 100);
}

/* Rate of loss at so many C over that at 20 C. */
static double storage_rate_to_20c(const double *in, size_t n)
{
    (void)n;
    const double here[] = {100, 30, 100, in[0]}, there[] = {100, 30, 100, 20};
    return log(alpha_left_open(here, 4) / 100) / log(alpha_left_open(there, 4) / 100);
}

/* IBU, gravity */
static double ratio(const double *in, size_t n)
{
    (void)n;
    double out = 0;
    enum wf_status status = wf_bitterness_ratio(in[0], in[1], &out);
    return must(status, out);
}

/* gravity, ratio */
static double ibu_for_ratio(const double *in, size_t n)
{
    const double one[] = {1, in[0]};
    return in[1] / ratio(one, n);
}

/* ---- Fermentation: original and apparent extract --------------------------------------------- */

static double real_extract(const double *in, size_t n)
{
    (void)n;
    double real = 0;
    enum wf_status status = wf_real_extract(in[0], in[1], &real);
    return must(status, real);
}

static double abw_percent(const double *in, size_t n)
{
    double abw = 0;
    enum wf_status status = wf_alcohol_by_weight(in[0], real_extract(in, n), &abw);
    return must(status, abw * 100);
}

static double abv_percent(const double *in, size_t n)
{
    double abv = 0;
    enum wf_status status = wf_alcohol_by_volume(abw_percent(in, n) / 100,
                                                 value_of(wf_gravity_from_plato, in[1]), &abv);
    return must(status, abv * 100);
}

/* Alcohol by weight per degree of apparent attenuation, from an original extract. */
static double abw_factor(const double *in, size_t n)
{
    const double to_one_quarter[] = {in[0], in[0] / 4};
    return abw_percent(to_one_quarter, n) / (in[0] - in[0] / 4);
}

static double abw_percent_of_gravities(const double *in, size_t n)
{
    const double plato[] = {plato_of_gravity(in, 1), plato_of_gravity(in + 1, 1)};
    return abw_percent(plato, n);
}

static double abv_percent_of_gravities(const double *in, size_t n)
{
    const double plato[] = {plato_of_gravity(in, 1), plato_of_gravity(in + 1, 1)};
    return abv_percent(plato, n);
}

static double lintner_of_wk(const double *in, size_t n)
{
    (void)n;
    return wf_lintner_from_wk(in[0]);
}

static double wk_of_lintner(const double *in, size_t n)
{
    (void)n;
    return wf_wk_from_lintner(in[0]);
}

/* ---- Worked recipes -------------------------------------------------------------------------- */

/* Pairs of kg and yield, all mashed but the first `unmashed`. */
static struct wf_beer predict(double litres, double efficiency, const double *pairs, size_t count,
                              size_t unmashed, double attenuation)
{
    struct wf_kettle k = {.batch_l = litres, .efficiency = efficiency};
    struct wf_grain grain[PRINTED_INPUTS_MOST / 2] = {{0}};
    double kg[PRINTED_INPUTS_MOST / 2] = {0};
    struct wf_beer beer = {0};
    for (size_t i = 0; i < count; i++) {
        kg[i] = pairs[2 * i];
        grain[i] = (struct wf_grain){
            .yield = pairs[2 * i + 1], .fermentability = 1, .mashed = i >= unmashed};
    }
    enum wf_status status =
        wf_beer_predict(&k, grain, kg, count, NULL, NULL, 0, attenuation, &beer, NULL);
    assert_int_equal(status, WF_OK);
    return beer;
}

static double og_of(double litres, double efficiency, const double *pairs, size_t n,
                    size_t unmashed, double kg_unit, double potential_unit)
{
    double converted[PRINTED_INPUTS_MOST];
    for (size_t i = 0; i < n; i++)
        converted[i] = i % 2 == 0 ? pairs[i] * kg_unit : pairs[i] / potential_unit;
    return predict(litres, efficiency, converted, n / 2, unmashed, (double)NAN).og;
}

/* gal, efficiency, then pairs of lb and ppg */
static double og_us(const double *in, size_t n)
{
    return og_of(in[0] * WF_L_PER_US_GAL, in[1], in + 2, n - 2, 0, WF_KG_PER_LB, WF_SUCROSE_PPG);
}

/* The same, the first pair being an extract that is not mashed. */
static double og_us_part_mash(const double *in, size_t n)
{
    return og_of(in[0] * WF_L_PER_US_GAL, in[1], in + 2, n - 2, 1, WF_KG_PER_LB, WF_SUCROSE_PPG);
}

/* L, efficiency, then pairs of kg and points x L per kg */
static double og_metric(const double *in, size_t n)
{
    return og_of(in[0], in[1], in + 2, n - 2, 0, 1, WF_SUCROSE_POINTS_L);
}

/* Gravity after the boil, gal after it, gal boiled off. */
static double mean_boil_gravity(const double *in, size_t n)
{
    (void)n;
    struct wf_kettle k = {.batch_l = in[1] * WF_L_PER_US_GAL,
                          .efficiency = 1,
                          .boil_minutes = 60,
                          .evaporation_l_h = in[2] * WF_L_PER_US_GAL};
    double sg = 0;
    enum wf_status status = wf_boil_gravity(in[0], &k, &sg);
    return must(status, sg);
}

/* Original gravity, the yeast's apparent attenuation: base malt only. */
static double final_gravity(const double *in, size_t n)
{
    (void)n;
    const double pair[] = {value_of(wf_extract_from_gravity, in[0]), 1};
    return predict(1, 1, pair, 1, 0, in[1]).fg;
}

/* ---- The rows -------------------------------------------------------------------------------- */

static const struct printed_law law_row[] = {
#define LAW(name, inputs)                                                                          \
    {                                                                                              \
#name, inputs, name                                                                        \
    }
    LAW(gravity_of_plato, 1),
    LAW(plato_of_gravity, 1),
    LAW(lb_solids_per_gal, 1),
    LAW(lb_extract_per_bbl, 1),
    LAW(g_extract_per_100ml, 1),
    LAW(points_of_lb_per_gal, 1),
    LAW(yield_of_analysis, 2),
    LAW(percent_of_ppg, 1),
    LAW(points_l_per_kg, 1),
    LAW(ebc_of_srm, 1),
    LAW(srm_of_ebc, 1),
    LAW(mcu_of_kg_lov_l, 3),
    LAW(srm_of_mcu, 1),
    LAW(lov_of_ebc, 1),
    LAW(ebc_of_lov, 1),
    LAW(tinseth, 2),
    LAW(tinseth_per_minute, 2),
    LAW(rager, 2),
    LAW(rager_gravity_adjustment, 1),
    LAW(ibu_us, 0),
    LAW(ibu_mean_gravity, 6),
    LAW(mg_per_l_of_oz_per_gal, 2),
    LAW(grams_for_ibu, 4),
    LAW(grams_of_other_alpha, 3),
    LAW(isomerisation_rate, 1),
    LAW(stand_boil_minutes, 2),
    LAW(alpha_left_open, 4),
    LAW(storage_rate_to_20c, 1),
    LAW(ratio, 2),
    LAW(ibu_for_ratio, 2),
    LAW(real_extract, 2),
    LAW(abw_percent, 2),
    LAW(abv_percent, 2),
    LAW(abw_factor, 1),
    LAW(abw_percent_of_gravities, 2),
    LAW(abv_percent_of_gravities, 2),
    LAW(lintner_of_wk, 1),
    LAW(wk_of_lintner, 1),
    LAW(og_us, 0),
    LAW(og_us_part_mash, 0),
    LAW(og_metric, 0),
    LAW(mean_boil_gravity, 3),
    LAW(final_gravity, 2),
#undef LAW
};

const struct printed_law *printed_law_find(const char *name)
{
    for (size_t i = 0; i < COUNT_OF(law_row); i++)
        if (strcmp(law_row[i].name, name) == 0)
            return &law_row[i];
    return NULL;
}
