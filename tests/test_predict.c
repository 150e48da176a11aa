/* From a recipe to the beer: the one forward path. */
#include "support/test.h"

#include "wortfit/brewing.h"

#include <stdbool.h>

/* A recipe of our own for the tests: three malts, a sugar, four hops. */
static const struct wf_grain grains[] = {
    {.yield = 0.77, .lovibond = 2, .lintner = 120, .fermentability = 1, .mashed = true},
    {.yield = 0.72, .lovibond = 60, .lintner = 0, .fermentability = 0.6, .mashed = true},
    {.yield = 0.65, .lovibond = 400, .lintner = 0, .fermentability = 0.5, .mashed = true},
    {.yield = 1.00, .lovibond = 0, .lintner = 0, .fermentability = 1, .sugar = true},
};
static const double kg[] = {4.0, 0.4, 0.1, 0.3};
static const struct wf_addition additions[] = {
    {.use = WF_HOP_FIRST_WORT, .alpha = 0.10, .form = 1},
    {.use = WF_HOP_BOIL, .alpha = 0.06, .minutes = 15, .form = 0.9},
    {.use = WF_HOP_STAND, .alpha = 0.06, .minutes = 20, .celsius = 80, .form = 1},
    {.use = WF_HOP_DRY, .alpha = 0.12, .form = 1},
};
static const double grams[] = {15, 20, 30, 50};
static const struct wf_kettle kettle = {.batch_l = 20,
                                        .efficiency = 0.75,
                                        .boil_minutes = 60,
                                        .evaporation_l_h = 3,
                                        .stand_minutes = 3.3,
                                        .law = WF_TINSETH};
#define GRAINS    COUNT_OF(grains)
#define ADDITIONS COUNT_OF(additions)

static struct wf_beer predict(const struct wf_kettle *k, const double *weights,
                              const double *hop_weights, double attenuation)
{
    struct wf_beer b;
    enum wf_status status = wf_beer_predict(k, grains, weights, GRAINS, additions, hop_weights,
                                            ADDITIONS, attenuation, &b, NULL);
    assert_int_equal(status, WF_OK);
    return b;
}

/* What the model's rows add up to is what is predicted. */
static void beer_is_the_sum_of_its_coefficients(void **state)
{
    (void)state;
    struct wf_beer b = predict(&kettle, kg, grams, 0.75);
    double extract = 0, mcu = 0, residue = 0, ibu = 0, out, original;
    for (size_t i = 0; i < GRAINS; i++) {
        assert_int_equal(wf_extract_per_kg(&grains[i], &kettle, &out), WF_OK);
        extract += kg[i] * out;
        assert_int_equal(wf_mcu_per_kg(&grains[i], &kettle, &out), WF_OK);
        mcu += kg[i] * out;
        assert_int_equal(wf_residue_per_kg(&grains[i], &kettle, 0.75, &out), WF_OK);
        residue += kg[i] * out;
    }
    for (size_t i = 0; i < ADDITIONS; i++) {
        assert_int_equal(wf_ibu_per_gram(&additions[i], &kettle, b.boil_gravity, &out), WF_OK);
        ibu += grams[i] * out;
    }
    assert_int_equal(wf_extract_from_gravity(b.og, &original), WF_OK);
    assert_close(original, extract / 20, 1e-12);
    assert_int_equal(wf_mcu_from_srm(b.srm, &out), WF_OK);
    assert_close(out, mcu, 1e-9);
    assert_close(b.ibu, ibu, 1e-12);
    assert_close(b.ratio, ibu / ((b.og - 1) * 1000), 1e-12);
    assert_close(b.ebc, 1.97 * b.srm, 1e-12);
    /* the residue is the real extract, in degrees Plato of the wort */
    assert_int_equal(wf_plato_from_gravity(b.fg, &out), WF_OK);
    assert_close(0.1808 * b.plato + 0.8192 * out, b.plato * residue / extract, 1e-9);
}

/* The extract by hand: mashed malts at 75 %, the sugar whole. */
static void extract_is_that_of_a_reckoning_by_hand(void **state)
{
    (void)state;
    struct wf_beer b = predict(&kettle, kg, grams, 0.75);
    double by_hand = 0.75 * (4.0 * 0.77 + 0.4 * 0.72 + 0.1 * 0.65) + 0.3, extract;
    assert_int_equal(wf_extract_from_gravity(b.og, &extract), WF_OK);
    assert_close(extract * 20, by_hand, 1e-12);
    assert_close(b.lintner, 120 * 4.0 / 4.5, 1e-12); /* the sugar is not mashed */
    double mcu = 8.3454 * (2 * 4.0 + 60 * 0.4 + 400 * 0.1) / 20;
    assert_close(b.srm, 1.4922 * pow(mcu, 0.6859), 1e-12);
}

/* A coefficient of a kettle that cannot be is refused by each. */
static void coefficients_want_a_good_kettle(void **state)
{
    (void)state;
    struct wf_kettle k = kettle;
    double out = -777;
    k.boil_minutes = (double)NAN;
    assert_int_equal(wf_extract_per_kg(&grains[0], &k, &out), WF_OUT_OF_RANGE);
    assert_int_equal(wf_mcu_per_kg(&grains[0], &k, &out), WF_OUT_OF_RANGE);
    assert_int_equal(wf_residue_per_kg(&grains[0], &k, 0.75, &out), WF_OUT_OF_RANGE);
    assert_int_equal(wf_boil_gravity(1.05, &k, &out), WF_OUT_OF_RANGE);
    assert_int_equal(wf_addition_minutes(&additions[0], &k, &out), WF_OUT_OF_RANGE);
    assert_int_equal(wf_ibu_per_gram(&additions[3], &k, 1.05, &out), WF_OUT_OF_RANGE);
    assert_close(out, -777, 0);
}

/* Twice of everything in twice the volume is the same beer. */
static void beer_does_not_know_its_batch(void **state)
{
    (void)state;
    struct wf_beer one = predict(&kettle, kg, grams, 0.75);
    struct wf_kettle twice = kettle;
    double kg_twice[GRAINS], grams_twice[ADDITIONS];
    twice.batch_l *= 2;
    twice.evaporation_l_h *= 2;
    for (size_t i = 0; i < GRAINS; i++)
        kg_twice[i] = 2 * kg[i];
    for (size_t i = 0; i < ADDITIONS; i++)
        grams_twice[i] = 2 * grams[i];
    struct wf_beer two = predict(&twice, kg_twice, grams_twice, 0.75);
    assert_close(two.og, one.og, 1e-14);
    assert_close(two.fg, one.fg, 1e-14);
    assert_close(two.abv, one.abv, 1e-14);
    assert_close(two.srm, one.srm, 1e-12);
    assert_close(two.ibu, one.ibu, 1e-12);
    assert_close(two.boil_gravity, one.boil_gravity, 1e-14);
    assert_close(two.lintner, one.lintner, 1e-12);
    assert_close(two.attenuation, one.attenuation, 1e-12);
}

/* The bitterness is what each gram gives at the one boil gravity, times the grams. */
static void each_addition_is_told(void **state)
{
    (void)state;
    struct wf_beer b;
    double each[ADDITIONS] = {0}, sum = 0;
    assert_int_equal(
        wf_beer_predict(&kettle, grains, kg, GRAINS, additions, grams, ADDITIONS, 0.75, &b, each),
        WF_OK);
    for (size_t i = 0; i < ADDITIONS; i++)
        sum += each[i];
    assert_close(sum, b.ibu, 1e-12);
    assert_true(each[0] > each[1] && each[1] > 0 && each[2] > 0);
    assert_close(each[3], 0, 0); /* dry hops */
}

static void additions_count_their_minutes(void **state)
{
    (void)state;
    static const struct {
        struct wf_addition a;
        double minutes;
    } row[] = {
        {{.use = WF_HOP_FIRST_WORT}, 63.3},          /* the whole boil, and the stand */
        {{.use = WF_HOP_BOIL, .minutes = 60}, 63.3}, /* the same */
        {{.use = WF_HOP_BOIL, .minutes = 15}, 18.3}, /* boil additions get the stand too */
        {{.use = WF_HOP_BOIL, .minutes = 0}, 3.3},   /* thrown in at flame-out */
        {{.use = WF_HOP_STAND, .minutes = 20, .celsius = 100}, 20}, /* its own, at the boil */
        {{.use = WF_HOP_STAND, .minutes = 0, .celsius = 80}, 0},
        {{.use = WF_HOP_DRY, .minutes = 5000}, 0},
    };
    for (size_t i = 0; i < COUNT_OF(row); i++) {
        double minutes = -1;
        assert_int_equal(wf_addition_minutes(&row[i].a, &kettle, &minutes), WF_OK);
        assert_close(minutes, row[i].minutes, 1e-12);
    }
    struct wf_addition late = {.use = WF_HOP_BOIL, .minutes = 60.5};
    struct wf_addition unknown = {.use = WF_HOP_USE_COUNT};
    double minutes = -1;
    assert_int_equal(wf_addition_minutes(&late, &kettle, &minutes), WF_OUT_OF_RANGE);
    assert_int_equal(wf_addition_minutes(&unknown, &kettle, &minutes), WF_OUT_OF_RANGE);
    assert_close(minutes, -1, 0);
}

static void whole_hops_count_for_less(void **state)
{
    (void)state;
    struct wf_addition pellets = {.use = WF_HOP_BOIL, .alpha = 0.08, .minutes = 30, .form = 1};
    struct wf_addition whole = pellets;
    whole.form = 0.9;
    double a, b;
    assert_int_equal(wf_ibu_per_gram(&pellets, &kettle, 1.05, &a), WF_OK);
    assert_int_equal(wf_ibu_per_gram(&whole, &kettle, 1.05, &b), WF_OK);
    assert_close(b, 0.9 * a, 1e-15);
}

/* The boil gravity lies between that of the fuller kettle and that at the end; without evaporation
 * it is the original gravity. */
static void boil_gravity_is_a_mean(void **state)
{
    (void)state;
    struct wf_kettle k = kettle;
    double sg, extract, before;
    k.evaporation_l_h = 0;
    assert_int_equal(wf_boil_gravity(1.060, &k, &sg), WF_OK);
    assert_close(sg, 1.060, 1e-14);
    k.evaporation_l_h = 4;
    k.boil_minutes = 90; /* 6 L off: 26 L before */
    assert_int_equal(wf_boil_gravity(1.060, &k, &sg), WF_OK);
    before = 2 * sg - 1.060;
    assert_int_equal(wf_extract_from_gravity(before, &extract), WF_OK);
    double after;
    assert_int_equal(wf_extract_from_gravity(1.060, &after), WF_OK);
    assert_close(extract * 26, after * 20, 1e-12);
}

/* Without a yeast the wort is known and the beer is not. */
static void no_yeast_no_beer(void **state)
{
    (void)state;
    struct wf_beer with = predict(&kettle, kg, grams, 0.75);
    struct wf_beer without = predict(&kettle, kg, grams, (double)NAN);
    assert_true(isnan(without.fg) && isnan(without.abv) && isnan(without.attenuation));
    assert_close(without.og, with.og, 0);
    assert_close(without.ibu, with.ibu, 0);
    assert_close(without.srm, with.srm, 0);
}

/* Base malt alone ferments as the yeast says; a sugar ferments out whatever the yeast, and leaves
 * the beer below the gravity of water. */
static void fermentability_is_of_the_grain(void **state)
{
    (void)state;
    const double base_only[] = {5, 0, 0, 0}, sugar_only[] = {0, 0, 0, 2},
                 caramel_only[] = {0, 5, 0, 0};
    struct wf_beer base = predict(&kettle, base_only, grams, 0.75);
    struct wf_beer sugar = predict(&kettle, sugar_only, grams, 0.75);
    struct wf_beer caramel = predict(&kettle, caramel_only, grams, 0.75);
    assert_close(base.attenuation, 0.75, 1e-12);
    assert_close(caramel.attenuation, 0.75 * 0.6, 1e-12);
    assert_true(sugar.fg < 1.0);
    assert_close(sugar.attenuation, 1 / 0.8192, 1e-9); /* no real extract is left */
    assert_true(isnan(sugar.lintner));                 /* nothing is mashed */
    assert_close(base.lintner, 120, 1e-12);
}

/* 300 lb x Lintner in 2.8 lb are 107: a published worked mean; its two parts here, 2 lb at 140 and
 * 0.8 lb at 25, are ours. Tolerance: whole degrees. */
static void diastatic_power_is_a_weighted_mean(void **state)
{
    (void)state;
    const struct wf_grain g[] = {
        {.yield = 0.8, .lintner = 140, .fermentability = 1, .mashed = true},
        {.yield = 0.8, .lintner = 25, .fermentability = 1, .mashed = true}};
    const double w[] = {2 * WF_KG_PER_LB, 0.8 * WF_KG_PER_LB};
    struct wf_beer b;
    assert_int_equal(wf_beer_predict(&kettle, g, w, 2, NULL, NULL, 0, (double)NAN, &b, NULL),
                     WF_OK);
    assert_close(b.lintner, 107, 0.5);
    assert_close(b.ibu, 0, 0); /* no hops */
}

/* T. Dennis, Viking Ale (web page), whole: grist and hops in one. The source takes the gravity
 * before the boil, 1.053, for the hops: a kettle that holds 6 gal at the start has the mean 1.058,
 * so its 41.6 IBU become 39.6 by the same table (0.000125^0.0053 is 0.953). Tolerance: its
 * rounding. */
static void worked_recipe_in_one(void **state)
{
    (void)state;
    const struct wf_grain g[] = {
        {.yield = 37 / WF_SUCROSE_PPG, .fermentability = 1, .mashed = true},
        {.yield = 33 / WF_SUCROSE_PPG, .fermentability = 1, .mashed = true},
        {.yield = 34 / WF_SUCROSE_PPG, .fermentability = 1, .mashed = true}};
    const double lb[] = {10 * WF_KG_PER_LB, 1 * WF_KG_PER_LB, 1.5 * WF_KG_PER_LB};
    const struct wf_addition a[] = {{.use = WF_HOP_BOIL, .alpha = 0.07, .minutes = 60, .form = 1},
                                    {.use = WF_HOP_BOIL, .alpha = 0.053, .minutes = 20, .form = 1},
                                    {.use = WF_HOP_BOIL, .alpha = 0.134, .minutes = 5, .form = 1}};
    const double oz[] = {1000 * WF_KG_PER_OZ, 1250 * WF_KG_PER_OZ, 500 * WF_KG_PER_OZ};
    const struct wf_kettle k = {.batch_l = 5 * WF_L_PER_US_GAL,
                                .efficiency = 0.70,
                                .boil_minutes = 60,
                                .evaporation_l_h = WF_L_PER_US_GAL};
    struct wf_beer b;
    assert_int_equal(wf_beer_predict(&k, g, lb, 3, a, oz, 3, (double)NAN, &b, NULL), WF_OK);
    assert_close(b.og, 1.0636, 0.0003);
    assert_close(2 * b.boil_gravity - b.og, 1.0530, 0.0003);
    assert_close(b.ibu, 41.6 * 0.953, 0.3);
    assert_close(b.ratio, 41.6 * 0.953 / 63.6, 0.01);
}

/* ---- Refusals: each field spoilt in turn; the beer stays untouched --------------------------- */

struct recipe {
    struct wf_kettle k;
    struct wf_grain g[GRAINS];
    double kg[GRAINS];
    struct wf_addition a[ADDITIONS];
    double grams[ADDITIONS];
    double attenuation;
};

static struct recipe spoilt; /* the fields below point into it */
static const struct {
    const char *name;
    double *field;
    double bad; /* besides NaN and the infinities */
} field_row[] = {
    {"batch", &spoilt.k.batch_l, 0},
    {"efficiency", &spoilt.k.efficiency, 1.01},
    {"boil minutes", &spoilt.k.boil_minutes, -1},
    {"evaporation", &spoilt.k.evaporation_l_h, -0.1},
    {"stand minutes", &spoilt.k.stand_minutes, -0.1},
    {"yield", &spoilt.g[1].yield, 1.01},
    {"Lovibond", &spoilt.g[1].lovibond, -1},
    {"Lintner", &spoilt.g[1].lintner, -1},
    {"fermentability", &spoilt.g[1].fermentability, 1.31},
    {"kg", &spoilt.kg[1], -0.001},
    {"alpha", &spoilt.a[1].alpha, 1.01},
    {"minutes", &spoilt.a[1].minutes, 61},
    {"form", &spoilt.a[1].form, -0.1},
    {"stand's own minutes", &spoilt.a[2].minutes, -1},
    {"stand's own temperature", &spoilt.a[2].celsius, 131},
    {"grams", &spoilt.grams[1], -0.001},
};

static void reset(void)
{
    spoilt = (struct recipe){.k = kettle, .attenuation = 0.75};
    memcpy(spoilt.g, grains, sizeof grains);
    memcpy(spoilt.kg, kg, sizeof kg);
    memcpy(spoilt.a, additions, sizeof additions);
    memcpy(spoilt.grams, grams, sizeof grams);
}

static enum wf_status predict_spoilt(struct wf_beer *b)
{
    return wf_beer_predict(&spoilt.k, spoilt.g, spoilt.kg, GRAINS, spoilt.a, spoilt.grams,
                           ADDITIONS, spoilt.attenuation, b, NULL);
}

static void no_bad_figure_gets_through(void **state)
{
    (void)state;
    struct wf_beer b = {.og = -777};
    for (size_t i = 0; i < COUNT_OF(field_row); i++) {
        const double bad[] = {field_row[i].bad, (double)NAN, HUGE_VAL, -HUGE_VAL};
        for (size_t j = 0; j < COUNT_OF(bad); j++) {
            reset();
            *field_row[i].field = bad[j];
            if (predict_spoilt(&b) != WF_OUT_OF_RANGE)
                fail_msg("%s = %g got through", field_row[i].name, bad[j]);
            assert_true(b.og == -777);
        }
    }
    for (double attenuation = -0.01; attenuation < 2; attenuation += 1.02) {
        reset();
        spoilt.attenuation = attenuation;
        assert_int_equal(predict_spoilt(&b), WF_OUT_OF_RANGE);
    }
    reset();
    assert_int_equal(predict_spoilt(&b), WF_OK);
}

static void too_much_or_nothing_is_no_wort(void **state)
{
    (void)state;
    struct wf_beer b = {.og = -777};
    reset();
    memset(spoilt.kg, 0, sizeof spoilt.kg);
    assert_int_equal(predict_spoilt(&b), WF_OUT_OF_RANGE); /* an empty grist */
    spoilt.attenuation = (double)NAN;
    assert_int_equal(predict_spoilt(&b), WF_OUT_OF_RANGE); /* also without a yeast */
    assert_int_equal(wf_beer_predict(&kettle, NULL, NULL, 0, NULL, NULL, 0, 0.75, &b, NULL),
                     WF_OUT_OF_RANGE);
    reset();
    spoilt.kg[0] = 100; /* 100 kg in 20 L: past any gravity */
    assert_int_equal(predict_spoilt(&b), WF_OUT_OF_RANGE);
    assert_true(b.og == -777);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(beer_is_the_sum_of_its_coefficients),
        cmocka_unit_test(extract_is_that_of_a_reckoning_by_hand),
        cmocka_unit_test(coefficients_want_a_good_kettle),
        cmocka_unit_test(beer_does_not_know_its_batch),
        cmocka_unit_test(each_addition_is_told),
        cmocka_unit_test(additions_count_their_minutes),
        cmocka_unit_test(whole_hops_count_for_less),
        cmocka_unit_test(boil_gravity_is_a_mean),
        cmocka_unit_test(no_yeast_no_beer),
        cmocka_unit_test(fermentability_is_of_the_grain),
        cmocka_unit_test(diastatic_power_is_a_weighted_mean),
        cmocka_unit_test(worked_recipe_in_one),
        cmocka_unit_test(no_bad_figure_gets_through),
        cmocka_unit_test(too_much_or_nothing_is_no_wort),
    };
    return cmocka_run_group_tests_name("prediction", tests, NULL, NULL) != 0;
}
