/*
 * The plan of a brew day: volumes that balance, remedies that do what they promise, days that
 * cannot be brewed, and memory that runs out. Recipes are drawn from a seed.
 */
#include "support/drawn_day.h"
#include "support/test.h"
#include "support/with_catalogue.h"

#include "base/alloc.h"
#include "wortfit/brewday.h"

#define DRAWN      2000
#define MILLILITRE 1e-3

/* ---- Volumes --------------------------------------------------------------------------------- */

static void check_balance(const struct drawn *drawn, const struct wf_brewday *d)
{
    const struct wf_brewday_water *w = &d->water;
    const struct wf_recipe *r = &drawn->recipe;
    double in = w->mash_l + w->sparge_l + w->early_l + w->late_l;
    double out = w->absorbed_l + w->dead_l + w->evaporated_l + w->kettle_loss_l +
                 w->fermenter_loss_l + w->dry_hops_l + w->packaged_l;
    assert_close(in, out, MILLILITRE);
    assert_close(w->mash_l + w->sparge_l - w->absorbed_l - w->dead_l + w->early_l, w->before_boil_l,
                 MILLILITRE);
    assert_close(w->before_boil_l - w->evaporated_l + w->late_l, w->after_boil_l, MILLILITRE);
    assert_close(w->after_boil_l, r->kettle.batch_l, 0.005 + MILLILITRE);
    assert_close(w->evaporated_l, r->kettle.evaporation_l_h * r->kettle.boil_minutes / 60,
                 0.005 + MILLILITRE);
    assert_close(w->after_hot_l * (1 - d->shrinkage), w->after_boil_l, MILLILITRE);
    assert_true(w->mash_l > 0 && w->sparge_l >= 0 && w->packaged_l > 0);
    double rests = 0;
    for (size_t i = 0; i < d->mash.rest_count; i++)
        rests += d->mash.rests[i].water_l;
    if (d->mash.grain_kg > 0)
        assert_close(rests, w->mash_l, MILLILITRE);
}

/* What is printed adds up too: each part is whole steps of 10 mL. */
static void check_steps(const struct wf_brewday *d)
{
    const struct wf_brewday_water *w = &d->water;
    const double part[] = {w->mash_l,       w->sparge_l,      w->absorbed_l,       w->dead_l,
                           w->early_l,      w->late_l,        w->before_boil_l,    w->after_boil_l,
                           w->evaporated_l, w->kettle_loss_l, w->fermenter_loss_l, w->dry_hops_l,
                           w->packaged_l};
    for (size_t i = 0; i < COUNT_OF(part); i++)
        assert_close(part[i] * 100, round(part[i] * 100), 1e-6);
}

/* Heat, reckoned anew: what each water brings, grain, tun and mash take. */
static void check_heat(const struct wf_brewday *d)
{
    const struct wf_brewday_mash *m = &d->mash;
    double held = WF_MALT_HEAT_L_KG * m->grain_kg + m->tun_heat_l, at = m->grain_celsius;
    for (size_t i = 0; i < m->rest_count; i++) {
        const struct wf_rest *r = &m->rests[i];
        double mixed = (held * at + r->water_l * r->water_celsius) / (held + r->water_l);
        double rounding = 0.01 * r->water_celsius / (held + r->water_l); /* of both to 10 mL */
        assert_close(mixed, r->celsius, rounding + 1e-6);
        assert_true(r->water_celsius <= d->boiling_celsius);
        held += r->water_l;
        at = r->celsius;
    }
    if (isnan(m->out_l))
        return;
    assert_true(m->out_l < d->water.sparge_l);
    double hottest = d->boiling_celsius - 2;
    assert_close((held * at + m->out_l * hottest) / (held + m->out_l), WF_MASH_OUT_C, 1e-6);
}

static void check_vessels(const struct drawn *drawn, const struct wf_brewday *d)
{
    const struct wf_brewhouse *b = &drawn->brewhouse;
    const struct wf_brewday_vessel *tun = &d->vessels[WF_VESSEL_TUN],
                                   *kettle = &d->vessels[WF_VESSEL_KETTLE];
    if (isnan(b->tun_l)) {
        assert_int_equal(tun->fit, WF_FIT_UNKNOWN);
        assert_int_equal(kettle->fit, WF_FIT_UNKNOWN);
        return;
    }
    assert_int_equal(kettle->fit == WF_FIT_OVER,
                     fmax(d->water.before_hot_l, d->water.after_hot_l) > b->kettle_l);
    /* It is too small only for a mash that is as thick as may be. */
    if (tun->fit == WF_FIT_OVER)
        assert_true(d->mash.liquor_l_kg <=
                    fmin(WF_MASH_LEAST_L_KG, b->mash_l_kg) + 0.01 / d->mash.grain_kg);
}

/* ---- Gravities ------------------------------------------------------------------------------- */

/* Sugars that go in late, after what the readings before the boil see. */
static double late_kg(const struct drawn *drawn, const struct wf_brewday *d)
{
    double kg = extract_per_l(d->after_sg) * drawn->recipe.kettle.batch_l -
                extract_per_l(d->before_sg) * d->water.before_boil_l;
    assert_true(kg > -1e-6 * drawn->recipe.kettle.batch_l);
    return kg;
}

/* Boiled so much longer, strengthened or thinned so, the wort ends at its gravity. */
static void check_remedy(const struct drawn *drawn, const struct wf_brewday *d, double extract_kg,
                         double litres, const struct wf_correction *r)
{
    double per_kg, sg;
    if (!isnan(r->water_l)) {
        assert_int_equal(wf_gravity_from_extract(extract_kg / (litres + r->water_l), &sg), WF_OK);
        assert_close(sg, d->after_sg, 1e-6);
        return;
    }
    if (!isnan(r->minutes)) {
        double left = litres - r->minutes / 60 * drawn->recipe.kettle.evaporation_l_h;
        assert_close(left, r->left_l, 1e-9 * litres);
        assert_int_equal(wf_gravity_from_extract(extract_kg / left, &sg), WF_OK);
        assert_close(sg, d->after_sg, 1e-6);
    }
    if (!isnan(r->extract_kg)) {
        double added = r->extract_kg * WF_DRY_EXTRACT_PPG / WF_SUCROSE_PPG;
        assert_int_equal(wf_extract_litres_per_kg(d->after_sg, &per_kg), WF_OK);
        assert_int_equal(
            wf_gravity_from_extract((extract_kg + added) / (litres + added * per_kg), &sg), WF_OK);
        assert_close(sg, d->after_sg, 1e-6);
    }
}

static void check_points(const struct drawn *drawn, const struct wf_brewday *d)
{
    double after = d->water.after_boil_l, late = late_kg(drawn, d);
    for (size_t i = 0; i < d->point_count; i++) {
        const struct wf_measuring *m = &d->points[i];
        assert_true(isfinite(m->expected) && m->remedy_count <= WF_CORRECTIONS_MOST);
        for (size_t k = 0; k < m->remedy_count; k++) {
            const struct wf_correction *r = &m->remedies[k];
            if (m->what == WF_MEASURE_BEFORE)
                check_remedy(drawn, d, extract_per_l(r->reading) * d->water.before_boil_l + late,
                             after, r);
            else if (m->what == WF_MEASURE_AFTER)
                check_remedy(drawn, d, extract_per_l(r->reading) * after, after, r);
            else if (m->what == WF_MEASURE_AFTER_L)
                check_remedy(drawn, d, extract_per_l(d->after_sg) * after, r->reading, r);
            if (m->what == WF_MEASURE_AFTER_L) /* all the extract is there */
                assert_close(extract_per_l(r->beside_sg) * r->reading,
                             extract_per_l(d->after_sg) * after, 1e-6 * after);
        }
    }
}

static void drawn_days_add_up(void **state)
{
    (void)state;
    static struct drawn drawn;
    size_t planned = 0;
    for (int i = 0; i < DRAWN; i++) {
        struct wf_brewday *day = NULL;
        struct wf_error e = {0};
        if (!drawn_day_draw(&drawn))
            continue;
        enum wf_status status = drawn_day_plan(&drawn, catalogue, &day, &e);
        assert_true(status == WF_OK || (status == WF_OUT_OF_RANGE && e.count > 0 && !day));
        if (status != WF_OK)
            continue;
        planned++;
        check_balance(&drawn, day);
        check_steps(day);
        check_points(&drawn, day);
        check_heat(day);
        check_vessels(&drawn, day);
        wf_brewday_free(day);
    }
    assert_true(planned > DRAWN / 2);
}

/* ---- One day --------------------------------------------------------------------------------- */

static void a_day_by_hand(void **state)
{
    (void)state;
    struct drawn drawn;
    struct wf_brewday *d = NULL;
    struct wf_error e = {0};
    drawn_day_plain(&drawn);
    assert_int_equal(drawn_day_plan(&drawn, catalogue, &d, &e), WF_OK);
    /* 5 kg keep 5 L; 3 L boil away; 0.5 kg of sugar fill 0.31 L; 40 g of dry hops soak up 0.24 L.
     */
    assert_close(d->water.before_boil_l, 20 + 3 - 0.31, 0.011);
    assert_close(d->water.mash_l + d->water.sparge_l, 20 + 3 - 0.31 + 5, 0.011);
    assert_close(d->water.mash_l, 15, 1e-9);
    assert_close(d->water.packaged_l, 20 - 0.24, 1e-9);
    /* Before the boil the sugar is not in: 5 x 0.78 x 0.75 kg in 22.69 L. */
    assert_close(extract_per_l(d->before_sg), 5 * 0.78 * 0.75 / 22.69, 1e-4);
    /* (0.4173/3) x 47 C above 67 C: J. Palmer's law by hand. */
    assert_close(d->mash.rests[0].water_celsius, 67 + 0.41727 / 3 * 47, 0.01);
    /* A lager: 1.5 million x 20 L x P. */
    assert_close(d->yeast.billion, 1.5 * 20 * drawn.recipe.predicted.plato, 1e-9);
    assert_true(d->yeast.lager && d->yeast.celsius_low > 0);
    /* In order: hops with the boil, the sugar 10 minutes before its end, dry hops. */
    assert_int_equal(d->addition_count, 3);
    assert_close(d->additions[0].clock, 0, 0);
    assert_close(d->additions[1].clock, 50, 0);
    assert_int_equal(d->additions[1].what, WF_ADD_SUGAR);
    assert_int_equal(d->additions[2].use, WF_HOP_DRY);
    assert_string_equal(d->allergens, "gluten");
    /* 2.5 volumes, less what is left at the lager's warmest. */
    double residual, per_l;
    assert_int_equal(wf_residual_co2(d->packaging.celsius, &residual), WF_OK);
    assert_int_equal(wf_priming_g_per_l(WF_DEXTROSE, &per_l), WF_OK);
    assert_close(d->packaging.sugar_g, (2.5 - residual) * per_l * d->water.packaged_l, 1e-9);
    wf_brewday_free(d);
}

static void rests_follow_the_body(void **state)
{
    (void)state;
    static const struct {
        double body;
        size_t rests;
        double last;
        double fg;
        bool dry;
    } row[] = {{0.5, 2, 70, 1.014, false},
               {2, 1, 67, 1.014, false},
               {4, 1, 68, 1.014, false},
               {4, 1, 67, 1.009, true}};
    for (size_t i = 0; i < COUNT_OF(row); i++) {
        struct drawn drawn;
        struct wf_brewday *d = NULL;
        struct wf_error e = {0};
        drawn_day_plain(&drawn);
        drawn.recipe.character[WF_WORD_BODY] = row[i].body;
        drawn.recipe.predicted.fg = row[i].fg;
        assert_int_equal(drawn_day_plan(&drawn, catalogue, &d, &e), WF_OK);
        assert_int_equal(d->mash.rest_count, row[i].rests);
        assert_int_equal(d->mash.dry, row[i].dry);
        const struct wf_rest *last = &d->mash.rests[row[i].rests - 1];
        assert_close(last->celsius, row[i].last, 0);
        if (row[i].rests == 2) { /* what is added makes the step that the law of infusion gives */
            double litres;
            assert_int_equal(wf_infusion_litres(5, d->mash.rests[0].water_l, 63, 70,
                                                last->water_celsius, &litres),
                             WF_OK);
            assert_close(last->water_l, litres, 0.011);
        }
        wf_brewday_free(d);
    }
}

static void flakes_rest_for_their_gums(void **state)
{
    (void)state;
    struct drawn drawn;
    struct wf_brewday *d = NULL;
    struct wf_error e = {0};
    drawn_day_plain(&drawn);
    drawn.malts[0].class = WF_CLASS_FLAKED;
    drawn.recipe.character[WF_WORD_BODY] = 2;
    assert_int_equal(drawn_day_plan(&drawn, catalogue, &d, &e), WF_OK);
    assert_int_equal(d->mash.rest_count, 2);
    assert_close(d->mash.rests[0].celsius, 45, 0);
    wf_brewday_free(d);
}

/* ---- What cannot be brewed ------------------------------------------------------------------- */

static void losses_that_leave_nothing_are_told(void **state)
{
    (void)state;
    struct drawn drawn;
    struct wf_brewday *d = NULL;
    struct wf_error e = {0};
    drawn_day_plain(&drawn);
    drawn.brewhouse.fermenter_loss_l = 25;
    assert_int_equal(drawn_day_plan(&drawn, catalogue, &d, &e), WF_OUT_OF_RANGE);
    assert_non_null(strstr(e.text, "nothing is left to package"));
    assert_null(d);
}

static void a_mash_too_thick_is_told(void **state)
{
    (void)state;
    struct drawn drawn;
    struct wf_brewday *d = NULL;
    struct wf_error e = {0};
    drawn_day_plain(&drawn);
    drawn.brewhouse.mash_l_kg = 0.5;
    assert_int_equal(drawn_day_plan(&drawn, catalogue, &d, &e), WF_OUT_OF_RANGE);
    assert_non_null(strstr(e.text, "hotter than boiling"));
}

static void an_efficiency_that_no_mash_gives_is_marked(void **state)
{
    (void)state;
    struct drawn drawn;
    struct wf_brewday *d = NULL;
    struct wf_error e = {0};
    drawn_day_plain(&drawn);
    drawn.malts[0].kg = 9;
    drawn.recipe.kettle.efficiency = 0.95;
    drawn.recipe.kettle.evaporation_l_h = 0;
    assert_int_equal(wf_recipe_predict(&drawn.recipe, &e), WF_OK);
    assert_int_equal(drawn_day_plan(&drawn, catalogue, &d, &e), WF_OK);
    assert_true(d->mash.too_strong);
    wf_brewday_free(d);
}

static void failed_allocations_are_told(void **state)
{
    (void)state;
    struct drawn drawn;
    drawn_day_plain(&drawn);
    for (long n = 0;; n++) {
        struct wf_brewday *d = NULL;
        struct wf_error e = {0};
        wf_alloc_fail_at(n);
        enum wf_status status = drawn_day_plan(&drawn, catalogue, &d, &e);
        wf_alloc_fail_at(-1);
        if (status == WF_OK) {
            assert_true(n > 0);
            wf_brewday_free(d);
            return;
        }
        assert_int_equal(status, WF_MEMORY);
        assert_null(d);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(drawn_days_add_up),
        cmocka_unit_test(a_day_by_hand),
        cmocka_unit_test(rests_follow_the_body),
        cmocka_unit_test(flakes_rest_for_their_gums),
        cmocka_unit_test(losses_that_leave_nothing_are_told),
        cmocka_unit_test(a_mash_too_thick_is_told),
        cmocka_unit_test(an_efficiency_that_no_mash_gives_is_marked),
        cmocka_unit_test(failed_allocations_are_told),
    };
    return cmocka_run_group_tests(tests, set_up, tear_down);
}
