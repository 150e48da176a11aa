/*
 * The plan of a brew day against its place: vessels that are too small, a tun that is cold, thin
 * air, and what a mash can give.
 */
#include "support/drawn_day.h"
#include "support/test.h"
#include "support/with_catalogue.h"

static struct wf_brewday *plan_plain(struct drawn *d)
{
    struct wf_brewday *day = NULL;
    struct wf_error e = {0};
    if (drawn_day_plan(d, catalogue, &day, &e) != WF_OK)
        fail_msg("%s", e.text);
    return day;
}

static void small_vessels_are_told(void **state)
{
    (void)state;
    struct drawn drawn;
    drawn_day_plain(&drawn);
    /* 22.69 L before the boil fill 23.63 hot. */
    static const struct {
        double room;
        enum wf_fit fit;
    } row[] = {{23, WF_FIT_OVER}, {25, WF_FIT_TIGHT}, {27, WF_FIT_GOOD}};
    for (size_t i = 0; i < COUNT_OF(row); i++) {
        drawn.brewhouse.kettle_l = row[i].room;
        struct wf_brewday *d = plan_plain(&drawn);
        assert_int_equal(d->vessels[WF_VESSEL_KETTLE].fit, row[i].fit);
        assert_int_equal(d->vessels[WF_VESSEL_FERMENTER].fit, WF_FIT_UNKNOWN);
        wf_brewday_free(d);
    }
    /* The batch that is named fits: 0.9 x 23 x 0.96 = 19.87 cooled, 3 L boil off, and the sugar
     * adds 0.31 of 20. */
    drawn.brewhouse.kettle_l = 23;
    drawn.brewhouse.fermenter_l = 20;
    struct wf_brewday *d = plan_plain(&drawn);
    assert_close(d->vessels[WF_VESSEL_KETTLE].batch_l, (19.872 - 3) / (1 - 0.31 / 20), 0.01);
    assert_int_equal(d->vessels[WF_VESSEL_FERMENTER].fit, WF_FIT_TIGHT);
    assert_close(d->vessels[WF_VESSEL_FERMENTER].batch_l, 17, 1e-9);
    wf_brewday_free(d);
}

/* 5 kg take 5 x 0.6676 L: of a tun of 15 L 14.25 may be full, which leaves 10.91 L of water. */
static void the_mash_is_as_thick_as_the_tun_wants(void **state)
{
    (void)state;
    struct drawn drawn;
    drawn_day_plain(&drawn);
    drawn.brewhouse.tun_l = 15;
    struct wf_brewday *d = plan_plain(&drawn);
    assert_close(d->water.mash_l, 14.25 - 5 * 0.66764, 0.011);
    assert_true(d->mash.held_back);
    assert_int_equal(d->vessels[WF_VESSEL_TUN].fit, WF_FIT_GOOD);
    wf_brewday_free(d);
    drawn.brewhouse.tun_l = 10; /* and no thicker than can be stirred */
    d = plan_plain(&drawn);
    assert_close(d->water.mash_l, 5 * WF_MASH_LEAST_L_KG, 0.011);
    assert_int_equal(d->vessels[WF_VESSEL_TUN].fit, WF_FIT_OVER);
    wf_brewday_free(d);
}

static void what_is_under_the_mash_is_filled_besides(void **state)
{
    (void)state;
    struct drawn drawn;
    drawn_day_plain(&drawn);
    drawn.brewhouse.dead_space_l = 2;
    struct wf_brewday *d = plan_plain(&drawn);
    assert_close(d->water.mash_l, 17, 1e-9);
    assert_close(d->mash.liquor_l_kg, 3, 1e-9);
    wf_brewday_free(d);
}

/* At 2000 m water boils near 93.4 C. */
static void height_lowers_the_boil(void **state)
{
    (void)state;
    struct drawn drawn;
    struct wf_brewday *d = NULL;
    struct wf_error e = {0};
    drawn_day_plain(&drawn);
    drawn.brewhouse.altitude_m = 2000;
    drawn.recipe.character[WF_WORD_BODY] = 0.5; /* two rests */
    d = plan_plain(&drawn);
    assert_close(d->boiling_celsius, 93.4, 0.1);
    assert_close(d->mash.rests[1].water_celsius, d->boiling_celsius - 2, 1e-9);
    double sea;
    assert_int_equal(wf_residual_co2(d->packaging.celsius, &sea), WF_OK);
    assert_close(d->packaging.residual, sea * 794.95 / 1013.25, 1e-4);
    wf_brewday_free(d);
    /* Strike water of 95 C cannot be had there. */
    drawn.recipe.character[WF_WORD_BODY] = 2;
    drawn.brewhouse.mash_l_kg = 0.72;
    assert_int_equal(drawn_day_plan(&drawn, catalogue, &d, &e), WF_OUT_OF_RANGE);
    assert_non_null(strstr(e.text, "hotter than boiling (93."));
    drawn.brewhouse.altitude_m = 0;
    wf_brewday_free(plan_plain(&drawn));
}

/* 5 kg in 15 L, 5 L kept: 5 x 0.78 x 0.95 kg fill some 2.3 L; of 17.3 L 7.3 stay, then of 20 L. */
static void the_reach_is_what_mixing_leaves(void **state)
{
    (void)state;
    struct drawn drawn;
    drawn_day_plain(&drawn);
    struct wf_brewday *d = plan_plain(&drawn);
    double v = 5 * 0.78 * 0.95 * 0.62, kept = 5 + v;
    double left = kept / (15 + v) * kept / (kept + d->water.sparge_l);
    assert_close(d->mash.reach, 0.95 * (1 - left), 0.002);
    assert_true(d->mash.reach > 0.75 && !d->mash.too_strong);
    assert_true(d->mash.reach_sg > d->after_sg);
    wf_brewday_free(d);
}

/* A hundredth of the extract before the boil, made up for, is all of it again. */
static void a_hundredth_is_made_up_for(void **state)
{
    (void)state;
    struct drawn drawn;
    drawn_day_plain(&drawn);
    struct wf_brewday *d = plan_plain(&drawn);
    double kg = extract_per_l(d->before_sg) * d->water.before_boil_l * 0.01;
    double all = extract_per_l(d->after_sg) * d->water.after_boil_l;
    double added = d->hundredth.extract_kg * WF_DRY_EXTRACT_PPG / WF_SUCROSE_PPG, per_kg, sg;
    assert_close(d->hundredth.litres, kg / extract_per_l(d->after_sg), 1e-9);
    assert_int_equal(wf_extract_litres_per_kg(d->after_sg, &per_kg), WF_OK);
    assert_int_equal(
        wf_gravity_from_extract((all - kg + added) / (d->water.after_boil_l + added * per_kg), &sg),
        WF_OK);
    assert_close(sg, d->after_sg, 1e-6);
    assert_close(d->hundredth.points_l, (d->before_sg - 1) * 1000 * d->water.before_boil_l, 1e-6);
    wf_brewday_free(d);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(small_vessels_are_told),
        cmocka_unit_test(the_mash_is_as_thick_as_the_tun_wants),
        cmocka_unit_test(what_is_under_the_mash_is_filled_besides),
        cmocka_unit_test(height_lowers_the_boil),
        cmocka_unit_test(the_reach_is_what_mixing_leaves),
        cmocka_unit_test(a_hundredth_is_made_up_for),
    };
    return cmocka_run_group_tests(tests, set_up, tear_down);
}
