/*
 * The laws of the brew day: refused arguments, inverses, and the colour of a beer against the same
 * reckoned with the tabulated observer. Printed check points are in test_published.
 */
#include "support/test.h"

#include "wortfit/brewing.h"
#include "wortfit/process.h"

static void arguments_out_of_range_are_refused(void **state)
{
    (void)state;
    const double bad[] = {(double)NAN, (double)INFINITY, -1};
    double out = 42;
    int rgb[3] = {1, 2, 3};
    for (size_t i = 0; i < COUNT_OF(bad); i++) {
        double x = bad[i];
        assert_int_equal(wf_strike_celsius(x, 10, 20, 67, &out), WF_OUT_OF_RANGE);
        assert_int_equal(wf_strike_celsius(3, x, 20, 67, &out), WF_OUT_OF_RANGE);
        assert_int_equal(wf_infusion_litres(x, 10, 45, 67, 98, &out), WF_OUT_OF_RANGE);
        assert_int_equal(wf_first_runnings(x, 10, &out), WF_OUT_OF_RANGE);
        assert_int_equal(wf_hot_litres(x, 0.04, &out), WF_OUT_OF_RANGE);
        assert_int_equal(wf_hot_litres(20, x, &out), WF_OUT_OF_RANGE);
        assert_int_equal(wf_extract_litres_per_kg(x, &out), WF_OUT_OF_RANGE);
        assert_int_equal(wf_gravity_at_volume(1.05, x, 20, &out), WF_OUT_OF_RANGE);
        assert_int_equal(wf_volume_at_gravity(1.05, x, 1.04, &out), WF_OUT_OF_RANGE);
        assert_int_equal(wf_extract_to_add(x, 20, 1.05, 0.95, &out), WF_OUT_OF_RANGE);
        assert_int_equal(wf_extract_to_add(2, 20, 1.05, x, &out), WF_OUT_OF_RANGE);
        assert_int_equal(wf_pitch_billion(x, 20, 12, &out), WF_OUT_OF_RANGE);
        assert_int_equal(wf_residual_co2(x, &out), WF_OUT_OF_RANGE);
        assert_int_equal(wf_co2_bar(x, 20, WF_AIR_BAR, &out), WF_OUT_OF_RANGE);
        assert_int_equal(wf_co2_bar(2.4, x, WF_AIR_BAR, &out), WF_OUT_OF_RANGE);
        assert_int_equal(wf_co2_bar(2.4, 20, x, &out), WF_OUT_OF_RANGE);
        assert_int_equal(wf_tun_celsius(x, 10, 20, 67, &out), WF_OUT_OF_RANGE);
        assert_int_equal(wf_tun_celsius(1, x, 20, 67, &out), WF_OUT_OF_RANGE);
        assert_int_equal(wf_drained(x, 10, 5, 2, &out), WF_OUT_OF_RANGE);
        assert_int_equal(wf_drained(10, x, 5, 2, &out), WF_OUT_OF_RANGE);
        assert_int_equal(wf_drained(10, 10, x, 2, &out), WF_OUT_OF_RANGE);
        assert_int_equal(wf_drained(10, 10, 5, x, &out), WF_OUT_OF_RANGE);
        assert_int_equal(wf_air_bar(x * 1000, &out), WF_OUT_OF_RANGE);
        assert_int_equal(wf_height_bitterness(x * 1000, &out), WF_OUT_OF_RANGE);
        assert_int_equal(wf_boiling_celsius(x, &out), WF_OUT_OF_RANGE);
        assert_int_equal(wf_colour_seen(x, 5, rgb), WF_OUT_OF_RANGE);
        assert_int_equal(wf_colour_seen(5, x, rgb), WF_OUT_OF_RANGE);
    }
    assert_int_equal(wf_strike_celsius(3, 0, 20, 67, &out), WF_OUT_OF_RANGE);
    assert_int_equal(wf_infusion_litres(3, 9, 45, 67, 60, &out), WF_OUT_OF_RANGE);
    assert_int_equal(wf_infusion_litres(3, 9, 67, 45, 60, &out), WF_OUT_OF_RANGE);
    assert_int_equal(wf_volume_at_gravity(1.0, 20, 1.04, &out), WF_OUT_OF_RANGE);
    assert_int_equal(wf_volume_at_gravity(1.04, 20, 1.00001, &out), WF_OUT_OF_RANGE);
    assert_int_equal(wf_priming_g_per_l(WF_PRIMING_COUNT, &out), WF_OUT_OF_RANGE);
    assert_int_equal(wf_co2_from_gravity(1.01, 1.02, &out), WF_OUT_OF_RANGE);
    assert_int_equal(wf_residual_co2(28, &out), WF_OUT_OF_RANGE);
    assert_true(out == 42 && rgb[0] == 1);
}

/* Each figure of a mash alone, the others being right: a weight, a volume, and degrees between
 * frost and boil. */
static void each_figure_of_a_mash_is_looked_at(void **state)
{
    static const double bad[] = {(double)NAN, (double)INFINITY, -30, 101};
    double out = 42;
    (void)state;
    for (size_t i = 0; i < COUNT_OF(bad); i++) {
        double x = bad[i];
        assert_int_equal(wf_strike_celsius(3, 9, x, 67, &out), WF_OUT_OF_RANGE);
        assert_int_equal(wf_strike_celsius(3, 9, 20, x, &out), WF_OUT_OF_RANGE);
        assert_int_equal(wf_tun_celsius(1, 9, x, 67, &out), WF_OUT_OF_RANGE);
        assert_int_equal(wf_tun_celsius(1, 9, 20, x, &out), WF_OUT_OF_RANGE);
        assert_int_equal(wf_infusion_litres(3, 9, x, 67, 98, &out), WF_OUT_OF_RANGE);
        assert_int_equal(wf_infusion_litres(3, 9, 45, x, 98, &out), WF_OUT_OF_RANGE);
        assert_int_equal(wf_infusion_litres(3, 9, 45, 67, x, &out), WF_OUT_OF_RANGE);
        assert_int_equal(wf_infusion_litres(3, 9, 67, 67, x, &out), WF_OUT_OF_RANGE);
        if (x > 100)
            continue; /* so many litres can be */
        assert_int_equal(wf_infusion_litres(3, x, 45, 67, 98, &out), WF_OUT_OF_RANGE);
        assert_int_equal(wf_infusion_litres(x, 9, 45, 67, 98, &out), WF_OUT_OF_RANGE);
    }
    /* the way of the change is right, one figure is not */
    assert_int_equal(wf_infusion_litres(3, -30, 130, 67, 10, &out), WF_OUT_OF_RANGE);
    assert_int_equal(wf_infusion_litres(3, 9, 102, 67, 10, &out), WF_OUT_OF_RANGE);
    assert_int_equal(wf_infusion_litres(3, 9, 45, 102, 103, &out), WF_OUT_OF_RANGE);
    assert_close(out, 42, 0);
}

/* The heat that strike water brings is what the infusion law takes: one law, two ways. */
static void strike_and_infusion_agree(void **state)
{
    (void)state;
    for (double r = 1.5; r <= 5; r += 0.5) {
        double strike, litres;
        assert_int_equal(wf_strike_celsius(4, 4 * r, 18, 66, &strike), WF_OK);
        /* 4 kg of dry malt as a mash of next to no water */
        assert_int_equal(wf_infusion_litres(4, 1e-9, 18, 66, strike, &litres), WF_OK);
        assert_close(litres, 4 * r, 1e-6);
    }
}

/* What the water gives, grain and tun take. */
static void heat_is_kept(void **state)
{
    (void)state;
    double strike, more;
    assert_int_equal(wf_strike_celsius(4, 12, 18, 66, &strike), WF_OK);
    assert_int_equal(wf_tun_celsius(0.9, 12, 10, 66, &more), WF_OK);
    assert_close(12 * (strike + more - 66), WF_MALT_HEAT_L_KG * 4 * (66 - 18) + 0.9 * (66 - 10),
                 1e-9);
    assert_int_equal(wf_tun_celsius(0, 12, 10, 66, &more), WF_OK);
    assert_close(more, 0, 0);
}

/* By hand: of 12 L 4 stay, then 4 of those and 12 more; with 1 L of extract 5 of 13, then of 17. */
static void what_is_drained_is_counted(void **state)
{
    (void)state;
    double share;
    assert_int_equal(wf_drained(12, 12, 4, 0, &share), WF_OK);
    assert_close(share, 1 - (4.0 / 12) * (4.0 / 16), 1e-12);
    assert_int_equal(wf_drained(12, 0, 4, 0, &share), WF_OK); /* no sparge */
    assert_close(share, 1 - 4.0 / 12, 1e-12);
    assert_int_equal(wf_drained(12, 12, 4, 1, &share), WF_OK);
    assert_close(share, 1 - (5.0 / 13) * (5.0 / 17), 1e-12);
    assert_int_equal(wf_drained(12, 12, 0, 0, &share), WF_OK); /* nothing is kept */
    assert_close(share, 1, 0);
    assert_int_equal(wf_drained(4, 16, 9, 0, &share), WF_OK); /* nothing runs off at first */
    assert_close(share, 1 - 4.0 / 20, 1e-12);
}

/* Gauges tell what is above the air: thinner air, more of it. */
static void thinner_air_shows_more_pressure(void **state)
{
    (void)state;
    double sea, hill, air, boiling;
    assert_int_equal(wf_air_bar(0, &air), WF_OK);
    assert_close(air, WF_AIR_BAR, 1e-12);
    assert_int_equal(wf_co2_bar(2.5, 4, air, &sea), WF_OK);
    assert_int_equal(wf_air_bar(2000, &air), WF_OK);
    assert_int_equal(wf_co2_bar(2.5, 4, air, &hill), WF_OK);
    assert_close(hill - sea, WF_AIR_BAR - air, 1e-12);
    assert_int_equal(wf_boiling_celsius(air, &boiling), WF_OK);
    assert_true(boiling > 93 && boiling < 94);
    assert_int_equal(wf_height_bitterness(-100, &air), WF_OK);
    assert_close(air, 0, 0);
}

/* Degrees Plato are per cent by weight: 20 kg of extract in 80 kg of water. */
static void first_runnings_are_by_weight(void **state)
{
    (void)state;
    double plato;
    assert_int_equal(wf_first_runnings(20, 80 / WF_WATER_KG_PER_L, &plato), WF_OK);
    assert_close(plato, 20, 1e-12);
}

static void extract_added_gives_the_gravity(void **state)
{
    (void)state;
    for (double wanted = 1.03; wanted < 1.1; wanted += 0.01) {
        double had, kg, litres, sg;
        assert_int_equal(wf_extract_from_gravity(wanted - 0.008, &had), WF_OK);
        assert_int_equal(wf_extract_to_add(had * 20, 20, wanted, 0.95, &kg), WF_OK);
        assert_int_equal(wf_extract_litres_per_kg(wanted, &litres), WF_OK);
        assert_int_equal(
            wf_gravity_from_extract((had * 20 + 0.95 * kg) / (20 + 0.95 * kg * litres), &sg),
            WF_OK);
        assert_close(sg, wanted, 1e-9);
    }
}

static void a_volume_change_is_undone(void **state)
{
    (void)state;
    double thin, litres;
    assert_int_equal(wf_gravity_at_volume(1.060, 18, 23, &thin), WF_OK);
    assert_int_equal(wf_volume_at_gravity(thin, 23, 1.060, &litres), WF_OK);
    assert_close(litres, 18, 1e-9);
}

/* ---- Colour ---------------------------------------------------------------------------------- */

/* CIE 1931 observer, ISO 11664-1, 380..780 nm by 10, and D65 of ISO 11664-2. */
static const double observer[3][41] = {
    {.0014,  .0042,  .0143, .0435, .1344, .2839, .3483, .3362, .2908, .1954, .0956,
     .0320,  .0049,  .0093, .0633, .1655, .2904, .4334, .5945, .7621, .9163, 1.0263,
     1.0622, 1.0026, .8544, .6424, .4479, .2835, .1649, .0874, .0468, .0227, .0114,
     .0058,  .0029,  .0014, .0007, .0003, .0002, .0001, .0000},
    {.0000, .0001, .0004, .0012, .0040, .0116, .0230, .0380, .0600, .0910, .1390,
     .2080, .3230, .5030, .7100, .8620, .9540, .9950, .9950, .9520, .8700, .7570,
     .6310, .5030, .3810, .2650, .1750, .1070, .0610, .0320, .0170, .0082, .0041,
     .0021, .0010, .0005, .0002, .0001, .0001, .0000, .0000},
    {.0065, .0201, .0679, .2074, .6456, 1.3856, 1.7471, 1.7721, 1.6692, 1.2876, .8130, .4652, .2720,
     .1582, .0782, .0422, .0203, .0087, .0039,  .0021,  .0017,  .0011,  .0008,  .0003, .0002},
};
static const double daylight[41] = {
    49.98,  54.65,  82.75,  91.49,  93.43,  86.68,  104.86, 117.01, 117.81, 114.86, 115.92,
    108.81, 109.35, 107.80, 104.79, 107.69, 104.41, 104.05, 100.00, 96.33,  95.79,  88.69,
    90.01,  89.60,  87.70,  83.29,  83.70,  80.03,  80.21,  82.28,  78.28,  69.72,  71.61,
    74.35,  61.60,  69.89,  75.09,  63.59,  46.42,  66.81,  63.38,
};

static void seen_by_table(double srm_cm, double rgb[3])
{
    static const double to_rgb[3][3] = {
        {3.2406, -1.5372, -0.4986}, {-0.9689, 1.8758, 0.0415}, {0.0557, -0.2040, 1.0570}};
    double xyz[3] = {0}, all = 0;
    for (int i = 0; i < 41; i++) {
        double beyond = 10.0 * i - 50;
        double a =
            srm_cm / 12.7 * (0.02465 * exp(-beyond / 17.591) + 0.97535 * exp(-beyond / 82.122));
        all += daylight[i] * observer[1][i];
        for (int c = 0; c < 3; c++)
            xyz[c] += daylight[i] * observer[c][i] * pow(10, -a);
    }
    for (int c = 0; c < 3; c++) {
        double linear = 0;
        for (int k = 0; k < 3; k++)
            linear += to_rgb[c][k] * xyz[k] / all;
        linear = linear < 0 ? 0 : linear > 1 ? 1 : linear;
        rgb[c] =
            255 * (linear <= 0.0031308 ? 12.92 * linear : 1.055 * pow(linear, 1 / 2.4) - 0.055);
    }
}

/* The fit of Wyman, Sloan and Shirley is within a hundredth of the table: 6 of 255 steps where the
 * curve of the screen is steep, at the dark end. */
static void colours_agree_with_the_tabulated_observer(void **state)
{
    (void)state;
    for (double srm_cm = 0; srm_cm <= 200; srm_cm += 2.5) {
        int rgb[3];
        double table[3];
        assert_int_equal(wf_colour_seen(srm_cm / 5 > 170 ? 170 : srm_cm / 5, 5, rgb), WF_OK);
        seen_by_table(srm_cm, table);
        for (int c = 0; c < 3; c++)
            assert_close(rgb[c], table[c], 6);
    }
}

static void no_beer_is_white_and_more_is_darker(void **state)
{
    (void)state;
    int rgb[3], last = 3 * 255 + 1;
    assert_int_equal(wf_colour_seen(0, 5, rgb), WF_OK);
    assert_true(rgb[0] == 255 && rgb[1] == 255 && rgb[2] == 255);
    for (double srm = 0; srm <= 60; srm += 2) {
        assert_int_equal(wf_colour_seen(srm, 5, rgb), WF_OK);
        int sum = rgb[0] + rgb[1] + rgb[2];
        assert_true(sum < last || (sum == 0 && last == 0));
        assert_true(rgb[0] >= rgb[1] && rgb[1] >= rgb[2]); /* yellow, amber, red: never green */
        last = sum;
    }
}

/* 20 SRM through 1 cm is 4 SRM through 5: only their product counts. */
static void depth_and_colour_are_one(void **state)
{
    (void)state;
    int thin[3], deep[3];
    assert_int_equal(wf_colour_seen(20, 1, thin), WF_OK);
    assert_int_equal(wf_colour_seen(4, 5, deep), WF_OK);
    assert_memory_equal(thin, deep, sizeof thin);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(arguments_out_of_range_are_refused),
        cmocka_unit_test(each_figure_of_a_mash_is_looked_at),
        cmocka_unit_test(strike_and_infusion_agree),
        cmocka_unit_test(heat_is_kept),
        cmocka_unit_test(what_is_drained_is_counted),
        cmocka_unit_test(thinner_air_shows_more_pressure),
        cmocka_unit_test(first_runnings_are_by_weight),
        cmocka_unit_test(extract_added_gives_the_gravity),
        cmocka_unit_test(a_volume_change_is_undone),
        cmocka_unit_test(colours_agree_with_the_tabulated_observer),
        cmocka_unit_test(no_beer_is_white_and_more_is_darker),
        cmocka_unit_test(depth_and_colour_are_one),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
