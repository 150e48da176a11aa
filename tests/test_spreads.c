/*
 * What ranges are drawn from: strata of the normal law, shuffled for each source of error; and the
 * published figures that the usual spreads rest on.
 */
#include "support/dice.h"
#include "support/test.h"

#include "solve/draws.h"
#include "wortfit/sure.h"

/* Standard normal quantiles as statistical tables print them: M. Abramowitz, I. Stegun, Handbook of
 * Mathematical Functions, 1964, table 26.5 (from memory). */
#define Z_950 1.64485363
#define Z_975 1.95996398
#define Z_995 2.57582930

/* ---- Draws ----------------------------------------------------------------------------------- */

static void strata_are_those_of_the_normal_law(void **state)
{
    (void)state;
    double z[100];
    wf_draws_normal(10, z);
    assert_close(z[9], Z_950, 1e-8);
    assert_close(z[0], -Z_950, 1e-8);
    wf_draws_normal(20, z);
    assert_close(z[19], Z_975, 1e-8);
    wf_draws_normal(100, z);
    assert_close(z[99], Z_995, 1e-8);
    for (size_t i = 0; i < 100; i++) {
        assert_close(z[i], -z[99 - i], 1e-12);
        assert_true(i == 0 || z[i] > z[i - 1]);
        assert_close(erfc(-z[i] / sqrt(2)) / 2, ((double)i + 0.5) / 100, 1e-14);
    }
}

static int ascending(const void *a, const void *b)
{
    const double *x = a, *y = b;
    return (*x > *y) - (*x < *y);
}

static double correlation(const double *a, const double *b, size_t count)
{
    double ab = 0, aa = 0, bb = 0;
    for (size_t i = 0; i < count; i++) {
        double x = log(a[i]), y = log(b[i]); /* their means are 0 */
        ab += x * y;
        aa += x * x;
        bb += y * y;
    }
    return ab / sqrt(aa * bb);
}

/* Each source has every stratum once, in an order of its own that is always the same. */
static void sources_are_shuffled_apart(void **state)
{
    (void)state;
    static const char *const ids[] = {NULL, "cascade", "magnum", "saaz", "cascade-2"};
    static double z[WF_DRAWS], f[COUNT_OF(ids)][WF_DRAWS], again[WF_DRAWS];
    wf_draws_normal(WF_DRAWS, z);
    for (size_t i = 0; i < COUNT_OF(ids); i++) {
        wf_draws_factors(wf_draws_source("alpha", ids[i]), 0.1, z, WF_DRAWS, f[i]);
        wf_draws_factors(wf_draws_source("alpha", ids[i]), 0.1, z, WF_DRAWS, again);
        assert_memory_equal(f[i], again, sizeof again);
        for (size_t k = 0; k < i; k++)
            assert_true(fabs(correlation(f[i], f[k], WF_DRAWS)) < 3.5 / sqrt(WF_DRAWS));
    }
    qsort(again, WF_DRAWS, sizeof *again, ascending);
    for (size_t i = 0; i < WF_DRAWS; i++)
        assert_close(again[i], pow(1.1, z[i]), 1e-12);
    assert_true(wf_draws_source("alpha", "x") != wf_draws_source("extract", "x"));
}

static void quantiles_lie_between_strata(void **state)
{
    (void)state;
    double x[] = {3, 1, 5, 2};
    assert_close(wf_draws_quantile(x, 4, 0.5), 2.5, 1e-12);
    assert_close(wf_draws_quantile(x, 4, 0.125), 1, 1e-12);
    assert_close(wf_draws_quantile(x, 4, 0.75), 4, 1e-12);
    assert_close(wf_draws_quantile(x, 4, 0), 1, 0);
    assert_close(wf_draws_quantile(x, 4, 1), 5, 0);
    assert_close(wf_draws_quantile(x, 1, 0.3), x[0], 0);
}

/* Of values in any order, with ties, as of the same values sorted. */
static void quantiles_need_no_order(void **state)
{
    struct dice d = {20261125};
    (void)state;
    for (int i = 0; i < 2000; i++) {
        double x[60], sorted[60];
        size_t count = (size_t)dice_whole(&d, 1, 60);
        long most = dice_whole(&d, 0, 90);
        for (size_t k = 0; k < count; k++)
            x[k] = sorted[k] = (double)dice_whole(&d, 0, most);
        qsort(sorted, count, sizeof *sorted, ascending);
        for (int ask = 0; ask < 3; ask++) {
            double q = dice_decimal(&d, 0, 100, 100);
            double at = fmin(fmax(q * (double)count - 0.5, 0), (double)count - 1);
            double below = sorted[(size_t)at], above = sorted[(size_t)ceil(at)];
            assert_close(wf_draws_quantile(x, count, q), below + (at - floor(at)) * (above - below),
                         1e-12);
        }
    }
}

/* ---- What the defaults rest on --------------------------------------------------------------- */

static double deviation(const double *x, size_t count, double *mean)
{
    double sum = 0, squares = 0;
    for (size_t i = 0; i < count; i++)
        sum += x[i];
    *mean = sum / (double)count;
    for (size_t i = 0; i < count; i++)
        squares += (x[i] - *mean) * (x[i] - *mean);
    return sqrt(squares / (double)(count - 1));
}

static const struct wf_spread usual = {.efficiency = 0.03,
                                       .extract = 0.01,
                                       .colour = 0.08,
                                       .alpha = 0.10,
                                       .utilisation = 0.10,
                                       .attenuation = 0.03};

static void defaults_are_those_that_are_documented(void **state)
{
    (void)state;
    struct wf_brewhouse b;
    for (int units = WF_UNITS_METRIC; units <= WF_UNITS_US; units++) {
        wf_brewhouse_default((enum wf_units)units, &b);
        assert_memory_equal(&b.spread, &usual, sizeof usual);
    }
}

/* What is left out keeps its default. */
static void a_brewhouse_states_its_own(void **state)
{
    (void)state;
    static const char text[] =
        "{\"brewhouse\": \"x\", \"spread\": {\"efficiency\": \"2.5 %\","
        "\"colour\": \"12 %\", \"alpha\": \"0 %\", \"attenuation\": \"4 %\"}}";
    struct wf_error e = {0};
    struct wf_brewhouse *b;
    if (wf_brewhouse_parse("x", text, strlen(text), WF_UNITS_METRIC, &b, &e) != WF_OK)
        fail_msg("%s", e.text);
    assert_close(b->spread.efficiency, 0.025, 1e-15);
    assert_close(b->spread.extract, 0.01, 1e-15);
    assert_close(b->spread.colour, 0.12, 1e-15);
    assert_close(b->spread.alpha, 0, 0);
    assert_close(b->spread.utilisation, 0.10, 1e-15);
    assert_close(b->spread.attenuation, 0.04, 1e-15);
    wf_brewhouse_free(b);
}

/* J.-P. Hosom, brewing research blog: IBU by the laboratory over those by Tinseth as printed there,
 * additions of 20 min and more: article 12, experiment 1, and a series of three beers at 20 min,
 * means of two analyses. */
static void utilisation_scatters_as_measured(void **state)
{
    (void)state;
    const double ratio[] = {35.7 / 40.0, 34.3 / 34.0, 27.1 / 24.7,
                            33.5 / 37.4, 35.5 / 38.2, 35.0 / 38.6};
    double mean, got = deviation(ratio, COUNT_OF(ratio), &mean);
    assert_close(mean, 0.96, 0.005);
    assert_close(got, 0.08, 0.005);
    assert_true(usual.utilisation >= got && usual.utilisation <= 1.5 * got);
}

/* Morey: wf_srm_from_mcu; Mosher: 0.3 MCU + 4.7; Daniels 1996: 0.2 MCU + 8.4. */
static void colour_laws_lie_apart(void **state)
{
    (void)state;
    for (double mcu = 20; mcu <= 50; mcu += 5) {
        double srm[3] = {0, 0.3 * mcu + 4.7, 0.2 * mcu + 8.4}, mean;
        assert_int_equal(wf_srm_from_mcu(mcu, &srm[0]), WF_OK);
        double got = deviation(srm, 3, &mean) / mean;
        assert_true(got > 0.055 && got < 0.09);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(strata_are_those_of_the_normal_law),
        cmocka_unit_test(sources_are_shuffled_apart),
        cmocka_unit_test(quantiles_lie_between_strata),
        cmocka_unit_test(quantiles_need_no_order),
        cmocka_unit_test(defaults_are_those_that_are_documented),
        cmocka_unit_test(a_brewhouse_states_its_own),
        cmocka_unit_test(utilisation_scatters_as_measured),
        cmocka_unit_test(colour_laws_lie_apart),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
