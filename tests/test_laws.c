/*
 * What must hold for every law of brewing over its whole range: it answers up to its limits and
 * refuses what is past them, it rises or falls all the way, and its inverse brings it back.
 */
#include "support/test.h"

#include "wortfit/brewing.h"

#include <float.h>
#include <stdbool.h>

#define INPUTS_MOST 4

/* ---- Limits ---------------------------------------------------------------------------------- */

/* Laws of several numbers, as functions of an array. */
static enum wf_status analysis(const double *in, double *out)
{
    return wf_yield_from_analysis(in[0], in[1], out);
}

static enum wf_status mcu(const double *in, double *out)
{
    return wf_mcu_from_weights(in[0], in[1], out);
}

static enum wf_status tinseth(const double *in, double *out)
{
    return wf_utilisation(WF_TINSETH, in[0], in[1], out);
}

static enum wf_status rager(const double *in, double *out)
{
    return wf_utilisation(WF_RAGER, in[0], in[1], out);
}

static enum wf_status stand(const double *in, double *out)
{
    return wf_stand_boil_minutes(in[0], in[1], out);
}

static enum wf_status storage(const double *in, double *out)
{
    return wf_alpha_after_storage(in[0], in[1], in[2], in[3], WF_PACKED_SEALED, out);
}

static enum wf_status ratio(const double *in, double *out)
{
    return wf_bitterness_ratio(in[0], in[1], out);
}

static enum wf_status residual_malt(const double *in, double *out)
{
    return wf_residual_share(in[0], in[1], false, out);
}

static enum wf_status residual_sugar(const double *in, double *out)
{
    return wf_residual_share(in[0], in[1], true, out);
}

static enum wf_status real_extract(const double *in, double *out)
{
    return wf_real_extract(in[0], in[1], out);
}

static enum wf_status apparent_extract(const double *in, double *out)
{
    return wf_apparent_extract(in[0], in[1], out);
}

static enum wf_status alcohol_by_weight(const double *in, double *out)
{
    return wf_alcohol_by_weight(in[0], in[1], out);
}

static enum wf_status alcohol_by_volume(const double *in, double *out)
{
    return wf_alcohol_by_volume(in[0], in[1], out);
}

#define ONE(law)                                                                                   \
    static enum wf_status one_##law(const double *in, double *out)                                 \
    {                                                                                              \
        return law(in[0], out);                                                                    \
    }
ONE(wf_plato_from_gravity)
ONE(wf_extract_from_gravity)
ONE(wf_yield_from_potential)
ONE(wf_srm_from_mcu)
ONE(wf_mcu_from_srm)
ONE(wf_lovibond_from_ebc)
ONE(wf_isomerisation_rate)
#undef ONE

struct limit {
    double least, most, inside;
    bool open; /* the least itself is refused */
    int slope; /* +1 or -1: the law rises or falls all the way; 0: not everywhere */
};

static const struct {
    const char *name;
    enum wf_status (*law)(const double *in, double *out);
    size_t inputs;
    struct limit limit[INPUTS_MOST];
} limit_row[] = {
    {"plato", one_wf_plato_from_gravity, 1, {{0.980, 1.150, 1.05, false, +1}}},
    {"extract", one_wf_extract_from_gravity, 1, {{0.980, 1.150, 1.05, false, +1}}},
    {"potential", one_wf_yield_from_potential, 1, {{0, 46.3, 37, false, 0}}},
    {"analysis", analysis, 2, {{0, 1, 0.8, false, +1}, {0, 0.5, 0.04, false, -1}}},
    {"MCU", mcu, 2, {{0, DBL_MAX / 1e3, 20, false, +1}, {0, DBL_MAX, 20, true, -1}}},
    {"SRM", one_wf_srm_from_mcu, 1, {{0, 1000, 20, false, +1}}},
    {"MCU of SRM", one_wf_mcu_from_srm, 1, {{0, 170, 20, false, +1}}},
    {"Lovibond of EBC", one_wf_lovibond_from_ebc, 1, {{0, 2000, 20, false, +1}}},
    {"Tinseth", tinseth, 2, {{1, 1.150, 1.05, false, -1}, {0, 240, 60, false, +1}}},
    {"Rager", rager, 2, {{1, 1.150, 1.05, false, 0}, {0, 240, 60, false, +1}}},
    {"isomerisation", one_wf_isomerisation_rate, 1, {{0, 130, 100, false, +1}}},
    {"stand", stand, 2, {{0, 1440, 20, false, +1}, {0, 130, 80, false, +1}}},
    {"storage",
     storage,
     4,
     {{0, 1, 0.06, false, +1},
      {0, 0.95, 0.5, false, -1},
      {0, 3650, 180, false, -1},
      {-30, 40, 5, false, -1}}},
    {"ratio", ratio, 2, {{0, DBL_MAX / 1e3, 30, false, +1}, {1, 1.150, 1.05, true, -1}}},
    {"residue, malt", residual_malt, 2, {{0, 1, 0.75, false, -1}, {0, 1.3, 1, false, -1}}},
    {"residue, sugar", residual_sugar, 2, {{0, 1, 0.75, false, 0}, {0, 1.3, 1, false, 0}}},
    {"real extract", real_extract, 2, {{0, 36, 12, false, +1}, {-10, 36, 3, false, +1}}},
    {"apparent extract", apparent_extract, 2, {{0, 36, 12, false, -1}, {-10, 36, 4, false, +1}}},
    {"alcohol by weight", alcohol_by_weight, 2, {{3, 36, 12, false, +1}, {-10, 12, 3, false, -1}}},
    {"alcohol by volume",
     alcohol_by_volume,
     2,
     {{0, 1, 0.04, false, +1}, {0.98, 1.15, 1.01, false, +1}}},
};

static void expect(size_t row, size_t input, double value, bool good)
{
    double in[INPUTS_MOST], out = -777;
    for (size_t i = 0; i < limit_row[row].inputs; i++)
        in[i] = limit_row[row].limit[i].inside;
    in[input] = value;
    enum wf_status status = limit_row[row].law(in, &out);
    if (status != (good ? WF_OK : WF_OUT_OF_RANGE))
        fail_msg("%s, input %zu = %.17g: %s", limit_row[row].name, input, value,
                 wf_status_text(status));
    if (good ? !isfinite(out) : out != -777)
        fail_msg("%s, input %zu = %.17g: gave %g", limit_row[row].name, input, value, out);
}

static void limits_hold_to_the_last_bit(void **state)
{
    (void)state;
    for (size_t row = 0; row < COUNT_OF(limit_row); row++)
        for (size_t i = 0; i < limit_row[row].inputs; i++) {
            struct limit l = limit_row[row].limit[i];
            expect(row, i, l.inside, true);
            expect(row, i, l.most, true);
            expect(row, i, l.least, !l.open);
            expect(row, i, nextafter(l.least, -HUGE_VAL), false);
            if (l.most < DBL_MAX / 1e6)
                expect(row, i, nextafter(l.most, HUGE_VAL), false);
            expect(row, i, (double)NAN, false);
            expect(row, i, HUGE_VAL, false);
            expect(row, i, -HUGE_VAL, false);
        }
}

static void what_would_pass_a_whole_is_held(void **state)
{
    (void)state;
    double out;
    assert_int_equal(wf_yield_from_potential(46.3, &out), WF_OK);
    assert_close(out, 1, 0); /* sucrose, rounded up: no more than its weight */
    assert_int_equal(wf_residual_share(0.75, 1.3, true, &out), WF_OK);
    assert_close(out, 0, 0);
    assert_int_equal(wf_residual_share(1, 1.3, false, &out), WF_OK);
    assert_close(out, 0, 0);
}

static void unknown_words_are_refused(void **state)
{
    (void)state;
    double out = -777;
    assert_int_equal(wf_utilisation((enum wf_utilisation_law)2, 1.05, 60, &out), WF_OUT_OF_RANGE);
    assert_int_equal(wf_alpha_after_storage(0.06, 0.5, 100, 20, (enum wf_packing)3, &out),
                     WF_OUT_OF_RANGE);
    assert_int_equal(wf_mcu_from_weights(1e300, 1e-300, &out), WF_OUT_OF_RANGE);
    assert_int_equal(wf_bitterness_ratio(DBL_MAX, nextafter(1, 2), &out), WF_OUT_OF_RANGE);
    assert_true(out == -777);
}

/* ---- Inverses, over the whole range, and the limits of those that are an image --------------- */

static const struct {
    const char *name;
    enum wf_status (*law)(double, double *), (*inverse)(double, double *);
    double least, most; /* of the law */
    /* How near a figure and its value must come back. The cubic's terms of 600 P cancel to 1e-13 P,
     * which is 4e-16 in the gravity for each rounding. */
    double back, value;
} pair_row[] = {
    {"Plato", wf_plato_from_gravity, wf_gravity_from_plato, 0.980, 1.150, 4e-15, 1e-12},
    {"extract", wf_extract_from_gravity, wf_gravity_from_extract, 0.980, 1.150, 4e-15, 1e-14},
    {"Morey", wf_mcu_from_srm, wf_srm_from_mcu, 0, 170, 1e-12, 1e-10},
    {"malt colour", wf_lovibond_from_ebc, wf_ebc_from_lovibond, 0, 2000, 1e-11, 1e-12},
};

static void inverses_bring_back_every_figure(void **state)
{
    (void)state;
    const int steps = 20000;
    for (size_t p = 0; p < COUNT_OF(pair_row); p++) {
        double before = -HUGE_VAL;
        for (int i = 0; i <= steps; i++) {
            double x = i == steps
                           ? pair_row[p].most
                           : pair_row[p].least + (pair_row[p].most - pair_row[p].least) * i / steps;
            double y, back, again;
            assert_int_equal(pair_row[p].law(x, &y), WF_OK);
            assert_true(y > before); /* strictly rising */
            before = y;
            assert_int_equal(pair_row[p].inverse(y, &back), WF_OK);
            assert_close(back, x, pair_row[p].back);
            back = fmin(fmax(back, pair_row[p].least), pair_row[p].most); /* last bit at the ends */
            assert_int_equal(pair_row[p].law(back, &again), WF_OK);
            assert_close(again, y, pair_row[p].value);
        }
    }
}

/* The inverses of gravity take the image of the range and nothing past it. */
static void images_end_where_the_range_ends(void **state)
{
    (void)state;
    for (size_t p = 0; p < 2; p++) {
        double low, high, out = -777;
        assert_int_equal(pair_row[p].law(0.980, &low), WF_OK);
        assert_int_equal(pair_row[p].law(1.150, &high), WF_OK);
        const double outside[] = {low - 1e-9, high + 1e-9, (double)NAN, HUGE_VAL, -HUGE_VAL};
        for (size_t i = 0; i < COUNT_OF(outside); i++)
            assert_int_equal(pair_row[p].inverse(outside[i], &out), WF_OUT_OF_RANGE);
        assert_true(out == -777);
        assert_int_equal(pair_row[p].inverse(low, &out), WF_OK);
        assert_close(out, 0.980, 1e-15);
        assert_int_equal(pair_row[p].inverse(high, &out), WF_OK);
        assert_close(out, 1.150, 1e-15);
    }
    double out;
    assert_int_equal(wf_ebc_from_lovibond(-0.1, &out), WF_OUT_OF_RANGE);
    assert_int_equal(wf_ebc_from_lovibond(751, &out), WF_OUT_OF_RANGE);
    assert_int_equal(wf_ebc_from_lovibond((double)NAN, &out), WF_OUT_OF_RANGE);
}

static void plain_scales_come_back(void **state)
{
    (void)state;
    for (double x = 0; x <= 400; x += 0.37) {
        assert_close(wf_srm_from_ebc(wf_ebc_from_srm(x)), x, 1e-12);
        assert_close(wf_wk_from_lintner(wf_lintner_from_wk(x)), x, 1e-12);
    }
    assert_close(wf_lintner_from_wk(0), 0, 0);
    assert_close(wf_wk_from_lintner(0), 0, 0);
    assert_close(wf_wk_from_lintner(4), 0, 0); /* never below 0 */
    assert_close(wf_points(1.055), 55, 1e-12);
}

/* ---- Laws that rise or fall all the way ------------------------------------------------------ */

static void goes_on(size_t row, size_t input)
{
    struct limit l = limit_row[row].limit[input];
    double in[INPUTS_MOST], before = 0, most = fmin(l.most, 1e6);
    for (size_t i = 0; i < limit_row[row].inputs; i++)
        in[i] = limit_row[row].limit[i].inside;
    for (int step = l.open ? 1 : 0, first = step; step <= 500; step++) {
        double out;
        in[input] = l.least + (most - l.least) * step / 500;
        assert_int_equal(limit_row[row].law(in, &out), WF_OK);
        if (step > first && !((out - before) * l.slope > 0))
            fail_msg("%s does not go on along input %zu at %g", limit_row[row].name, input,
                     in[input]);
        before = out;
    }
}

static void laws_rise_or_fall_all_the_way(void **state)
{
    (void)state;
    for (size_t row = 0; row < COUNT_OF(limit_row); row++)
        for (size_t i = 0; i < limit_row[row].inputs; i++)
            if (limit_row[row].limit[i].slope != 0)
                goes_on(row, i);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(limits_hold_to_the_last_bit),
        cmocka_unit_test(what_would_pass_a_whole_is_held),
        cmocka_unit_test(unknown_words_are_refused),
        cmocka_unit_test(inverses_bring_back_every_figure),
        cmocka_unit_test(images_end_where_the_range_ends),
        cmocka_unit_test(plain_scales_come_back),
        cmocka_unit_test(laws_rise_or_fall_all_the_way),
    };
    return cmocka_run_group_tests_name("laws", tests, NULL, NULL) != 0;
}
