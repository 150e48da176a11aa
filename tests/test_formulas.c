/*
 * Other people's formulas for the same things: each was fitted to the same tables by other means,
 * so it must agree with ours as far as both are good.
 */
#include "support/test.h"

#include "wortfit/brewing.h"

static double plato(double sg)
{
    double out = (double)NAN;
    assert_int_equal(wf_plato_from_gravity(sg, &out), WF_OK);
    return out;
}

static double gravity(double p)
{
    double out = (double)NAN;
    assert_int_equal(wf_gravity_from_plato(p, &out), WF_OK);
    return out;
}

static double alcohol_by_volume(double og, double fg)
{
    double real, abw, abv = (double)NAN;
    assert_int_equal(wf_real_extract(plato(og), plato(fg), &real), WF_OK);
    assert_int_equal(wf_alcohol_by_weight(plato(og), real, &abw), WF_OK);
    assert_int_equal(wf_alcohol_by_volume(abw, fg, &abv), WF_OK);
    return abv;
}

/* SG = 1 + P/(258.6 - 227.1 P/258.2): the trade's inverse, common practice. 0.0001: the two tables
 * part by 0.00006 at 30 P. */
static void gravity_agrees_with_the_trade_formula(void **state)
{
    (void)state;
    for (double p = 0; p <= 30; p += 0.5)
        assert_close(gravity(p), 1 + p / (258.6 - p / 258.2 * 227.1), 0.0001);
}

/* Cubic of a web article on gravity and Plato, 30 Apr 2012, 20 C/20 C. 0.01 P up to 1.100: what the
 * ASBC table's last digits leave open to a fit. */
static void plato_agrees_with_another_cubic(void **state)
{
    (void)state;
    for (double sg = 1.000; sg <= 1.100; sg += 0.002)
        assert_close(plato(sg), ((116.716 * sg - 569.851) * sg + 1048.046) * sg - 594.914, 0.01);
}

/* P = 260 (1 - 1/SG): manual of a density meter (Kyoto Electronics, DA-640). A rule of thumb, good
 * to 0.03 P up to 1.060. */
static void plato_agrees_with_a_rule(void **state)
{
    (void)state;
    for (double sg = 1.002; sg <= 1.060; sg += 0.002)
        assert_close(plato(sg), 260 * (1 - 1 / sg), 0.03);
}

/* Lincoln's equation: lb extract per US barrel = 2.58/(1/P - 0.00382). 0.4 %: its three-digit
 * constant, and 0.1 % for weighing in air. */
static void extract_agrees_with_lincoln(void **state)
{
    (void)state;
    for (double p = 6; p <= 24; p += 1) {
        double kg_per_l, lincoln = 2.58 / (1 / p - 0.00382);
        assert_int_equal(wf_extract_from_gravity(gravity(p), &kg_per_l), WF_OK);
        assert_close(kg_per_l * 31 * WF_L_PER_US_GAL / WF_KG_PER_LB, lincoln, 0.004 * lincoln);
    }
}

/* The published coefficients of Morey's power law, read off the curve. */
static void colour_has_moreys_coefficients(void **state)
{
    (void)state;
    double at_1, at_10, at_100;
    assert_int_equal(wf_srm_from_mcu(1, &at_1), WF_OK);
    assert_int_equal(wf_srm_from_mcu(10, &at_10), WF_OK);
    assert_int_equal(wf_srm_from_mcu(100, &at_100), WF_OK);
    assert_close(at_1, 1.4922, 1e-12);
    assert_close(log10(at_100 / at_10), 0.6859, 1e-12);
}

/* SRM = 1.3546 Lov - 0.76: maltsters' comparison of the scales, from memory. */
static void malt_colour_has_its_line(void **state)
{
    (void)state;
    for (double lov = 1; lov <= 700; lov *= 3) {
        double ebc;
        assert_int_equal(wf_ebc_from_lovibond(lov, &ebc), WF_OK);
        assert_close(wf_srm_from_ebc(ebc), 1.3546 * lov - 0.76, 1e-9);
    }
}

/* U% = 18.11 + 13.86 tanh((t - 31.32)/18.27): the fit to Rager's table in common use, from memory,
 * read off at the middle of its slope and where it ends. */
static void rager_has_the_coefficients_of_the_fit(void **state)
{
    (void)state;
    double middle, slope, end;
    assert_int_equal(wf_utilisation(WF_RAGER, 1.05, 31.32, &middle), WF_OK);
    assert_int_equal(wf_utilisation(WF_RAGER, 1.05, 31.33, &slope), WF_OK);
    assert_int_equal(wf_utilisation(WF_RAGER, 1.05, 240, &end), WF_OK);
    assert_close(middle, 0.1811, 1e-12);
    assert_close((slope - middle) / 0.01, 0.1386 / 18.27, 1e-8);
    assert_close(end, 0.3197, 1e-6);
}

/* R. Mosher, SRM = 0.3 MCU + 4.7 above 7 MCU. 12 %: a line laid over the same beers' curve. */
static void colour_agrees_with_mosher(void **state)
{
    (void)state;
    for (double mcu = 10; mcu <= 100; mcu += 5) {
        double srm;
        assert_int_equal(wf_srm_from_mcu(mcu, &srm), WF_OK);
        assert_close(srm, 0.3 * mcu + 4.7, 0.12 * srm);
    }
}

/* EBC = 2.65 Lov - 1.2, the classical form (rec.crafts.brewing FAQ, 1994). 1 % above 10 Lov. */
static void malt_colour_agrees_with_the_classical_form(void **state)
{
    (void)state;
    for (double lov = 10; lov <= 600; lov += 10) {
        double ebc;
        assert_int_equal(wf_ebc_from_lovibond(lov, &ebc), WF_OK);
        assert_close(ebc, 2.65 * lov - 1.2, 0.01 * ebc);
    }
}

/* What has no colour on one scale has none on the other, although the line does not pass there. */
static void nothing_is_nothing_on_every_scale(void **state)
{
    (void)state;
    double out;
    assert_int_equal(wf_lovibond_from_ebc(0, &out), WF_OK);
    assert_close(out, 0, 0);
    assert_int_equal(wf_ebc_from_lovibond(0, &out), WF_OK);
    assert_close(out, 0, 0);
    assert_int_equal(wf_srm_from_mcu(0, &out), WF_OK);
    assert_close(out, 0, 0);
    assert_int_equal(wf_mcu_from_srm(0, &out), WF_OK);
    assert_close(out, 0, 0);
    assert_int_equal(wf_utilisation(WF_TINSETH, 1.05, 0, &out), WF_OK);
    assert_close(out, 0, 0);
    assert_int_equal(wf_utilisation(WF_RAGER, 1.05, 0, &out), WF_OK);
    assert_close(out, 0, 0);
}

/* M.L. Hall, Brew by the Numbers, Zymurgy, Summer 1995: ABW = 76.08 (OG - FG)/(1.775 - OG),
 * ABV = ABW FG/0.794. 2 % up to 1.060: his hydrometer is of 60 F. */
static void alcohol_agrees_with_hall(void **state)
{
    (void)state;
    for (double og = 1.030; og <= 1.0601; og += 0.005) {
        double fg = 1 + (og - 1) / 4;
        double hall = 76.08 * (og - fg) / (1.775 - og) * fg / 0.794 / 100;
        assert_close(alcohol_by_volume(og, fg), hall, 0.02 * hall);
    }
}

/* ABV = 131.25 (OG - FG) in percent: common practice. 2 % up to 1.060. */
static void alcohol_agrees_with_the_rule(void **state)
{
    (void)state;
    for (double og = 1.030; og <= 1.0601; og += 0.005) {
        double fg = 1 + (og - 1) / 4, rule = 1.3125 * (og - fg);
        assert_close(alcohol_by_volume(og, fg), rule, 0.02 * rule);
    }
}

/* ASBC Beer-6: OE = 100 (2.0665 ABW + RE)/(100 + 1.0665 ABW), the same balance the other way:
 * exact. */
static void original_extract_comes_back_from_the_beer(void **state)
{
    (void)state;
    for (double oe = 1; oe <= 36; oe += 0.5)
        for (double ae = -2; ae < oe; ae += 1) {
            double real, abw;
            assert_int_equal(wf_real_extract(oe, ae, &real), WF_OK);
            assert_int_equal(wf_alcohol_by_weight(oe, real, &abw), WF_OK);
            assert_close(100 * (2.0665 * abw * 100 + real) / (100 + 1.0665 * abw * 100), oe, 1e-11);
        }
}

/* Real and apparent extract are each other's inverse, and a share a that ferments apparently leaves
 * 1 - 0.8192 a really (Balling). */
static void balling_holds_both_ways(void **state)
{
    (void)state;
    for (double oe = 2; oe <= 36; oe += 1)
        for (double a = 0; a <= 1; a += 0.05) {
            double apparent = oe * (1 - a), real, back, share;
            assert_int_equal(wf_real_extract(oe, apparent, &real), WF_OK);
            assert_int_equal(wf_apparent_extract(oe, real, &back), WF_OK);
            assert_close(back, apparent, 1e-12);
            assert_int_equal(wf_residual_share(a, 1, false, &share), WF_OK);
            assert_close(share * oe, real, 1e-12);
        }
}

/* Arrhenius: Malowicki and Shellhammer state 98.6 kJ/mol; R = 8.314462618 J/(mol K). */
static void isomerisation_has_its_activation_energy(void **state)
{
    (void)state;
    double cold, hot;
    assert_int_equal(wf_isomerisation_rate(90, &cold), WF_OK);
    assert_int_equal(wf_isomerisation_rate(130, &hot), WF_OK);
    double energy = 8.314462618 * log(hot / cold) / (1 / 363.15 - 1 / 403.15) / 1000;
    assert_close(energy, 98.6, 0.05);
}

/* A minute at the boil is a boil minute; packing factors 0.75 and 0.5 are Garetz's, from memory. */
static void stand_and_packing_have_their_fixed_points(void **state)
{
    (void)state;
    double minutes, open, sealed, vacuum;
    assert_int_equal(wf_stand_boil_minutes(20, 100, &minutes), WF_OK);
    assert_close(minutes, 20, 1e-12);
    assert_int_equal(wf_alpha_after_storage(0.06, 0.5, 180, 20, WF_PACKED_OPEN, &open), WF_OK);
    assert_int_equal(wf_alpha_after_storage(0.06, 0.5, 240, 20, WF_PACKED_SEALED, &sealed), WF_OK);
    assert_int_equal(wf_alpha_after_storage(0.06, 0.5, 360, 20, WF_PACKED_VACUUM, &vacuum), WF_OK);
    assert_close(open, 0.03, 1e-15);
    assert_close(sealed, 0.03, 1e-15);
    assert_close(vacuum, 0.03, 1e-15);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(gravity_agrees_with_the_trade_formula),
        cmocka_unit_test(plato_agrees_with_another_cubic),
        cmocka_unit_test(plato_agrees_with_a_rule),
        cmocka_unit_test(extract_agrees_with_lincoln),
        cmocka_unit_test(colour_has_moreys_coefficients),
        cmocka_unit_test(malt_colour_has_its_line),
        cmocka_unit_test(rager_has_the_coefficients_of_the_fit),
        cmocka_unit_test(colour_agrees_with_mosher),
        cmocka_unit_test(malt_colour_agrees_with_the_classical_form),
        cmocka_unit_test(nothing_is_nothing_on_every_scale),
        cmocka_unit_test(alcohol_agrees_with_hall),
        cmocka_unit_test(alcohol_agrees_with_the_rule),
        cmocka_unit_test(original_extract_comes_back_from_the_beer),
        cmocka_unit_test(balling_holds_both_ways),
        cmocka_unit_test(isomerisation_has_its_activation_energy),
        cmocka_unit_test(stand_and_packing_have_their_fixed_points),
    };
    return cmocka_run_group_tests_name("other formulas", tests, NULL, NULL) != 0;
}
