/* Solves, checks and scales go by what a brewhouse has learnt, and predict by it. */
#include "support/test.h"

#include "wortfit/scale.h"
#include "wortfit/solve.h"

#include <stdbool.h>

static struct wf_catalogue *catalogue;
static struct wf_store *shop;

static int set_up(void **state)
{
    (void)state;
    return wf_catalogue_read(&catalogue, NULL) == WF_OK &&
                   wf_store_sample(catalogue, &shop, NULL) == WF_OK
               ? 0
               : -1;
}

static int tear_down(void **state)
{
    (void)state;
    wf_store_free(shop);
    wf_catalogue_free(catalogue);
    return 0;
}

static struct wf_recipe *read_on(const char *text, const struct wf_brewhouse *b)
{
    struct wf_recipe *r = NULL;
    struct wf_error e = {0};
    if (wf_recipe_parse_on("r", text, strlen(text), NULL, catalogue, b, &r, &e) != WF_OK)
        fail_msg("%s", e.text);
    return r;
}

static struct wf_brewhouse learnt_brewhouse(void)
{
    static const struct wf_brewhouse_yeast yeasts[] = {{"american-ale-clean", 0.71}};
    struct wf_brewhouse b;
    wf_brewhouse_default(WF_UNITS_METRIC, &b);
    b.efficiency = 0.72;
    b.efficiency_fall = 0.02;
    b.efficiency_gravity = 1.050;
    b.bitterness_factor = 0.8;
    b.colour_factor = 1.25;
    b.yeasts = yeasts;
    b.yeast_count = 1;
    return b;
}

static void efficiency_falls_with_gravity(void **state)
{
    struct wf_brewhouse b = learnt_brewhouse();
    (void)state;
    assert_close(wf_brewhouse_efficiency(&b, 1.050), 0.72, 1e-12);
    assert_close(wf_brewhouse_efficiency(&b, 1.070), 0.68, 1e-12);
    assert_close(wf_brewhouse_efficiency(&b, 1.035), 0.75, 1e-12);
    assert_close(wf_brewhouse_efficiency(&b, (double)NAN), 0.72, 1e-12);
    b.efficiency_fall = 0.2;
    assert_close(wf_brewhouse_efficiency(&b, 1.150), 0.1, 1e-12);
    assert_close(wf_brewhouse_efficiency(&b, 1.010), 1, 1e-12);
}

/* A recipe found for the brewhouse meets the wishes there, by the same forward path. */
static void a_solve_goes_by_it(void **state)
{
    struct wf_target *t = NULL;
    struct wf_recipe *r = NULL;
    struct wf_brewhouse b = learnt_brewhouse();
    struct wf_solve_options o = {.today = 20000};
    static const char *const only[] = {"american-ale-clean", NULL};
    struct wf_error e = {0};
    (void)state;
    assert_int_equal(wf_target_find("american-pale-ale", catalogue, &t, NULL), WF_OK);
    t->yeasts = only;
    if (wf_solve(t, shop, &b, &o, &r, &e) != WF_OK)
        fail_msg("%s", e.text);
    assert_close(r->kettle.efficiency, wf_brewhouse_efficiency(&b, wf_range_middle(t->og)), 1e-12);
    assert_close(r->yeast.attenuation, 0.71, 1e-12);
    assert_true(r->predicted.srm >= t->colour.low - 1e-9 &&
                r->predicted.srm <= t->colour.high + 1e-9);
    struct wf_beer there = r->predicted;
    r->kettle.bitterness_factor = r->kettle.colour_factor = 0;
    assert_int_equal(wf_recipe_predict(r, NULL), WF_OK);
    assert_close(there.ibu, 0.8 * r->predicted.ibu, 1e-9);
    assert_close(there.srm, 1.25 * r->predicted.srm, 1e-9);
    assert_close(there.og, r->predicted.og, 1e-12);
    wf_recipe_free(r);
    wf_target_free(t);
}

static const char amber[] =
    "{ \"recipe\": \"r\", \"batch_l\": 20, \"malts\": ["
    "{ \"id\": \"pale-ale-malt-british\", \"kg\": 4 }, { \"id\": \"crystal-60\", \"kg\": 0.3 }],"
    "\"hops\": [{ \"id\": \"magnum\", \"g\": 15, \"at\": \"60 min\" },"
    "{ \"id\": \"cascade\", \"g\": 30, \"at\": \"10 min\" }],"
    "\"yeast\": { \"id\": \"american-ale-clean\" } }";

/* A recipe reckoned on it gets the efficiency of the very gravity that it gives. */
static void a_recipe_is_reckoned_by_it(void **state)
{
    static const char strong[] =
        "{ \"recipe\": \"r\", \"malts\": [{ \"id\": \"pilsner-malt\", \"kg\": 7 }],"
        "\"hops\": [{ \"id\": \"magnum\", \"g\": 20, \"at\": \"60 min\" }],"
        "\"yeast\": { \"id\": \"american-ale-clean\" } }";
    struct wf_brewhouse b = learnt_brewhouse();
    struct wf_recipe *r = read_on(strong, &b);
    (void)state;
    assert_true(r->predicted.og > 1.060 && r->kettle.efficiency < 0.70);
    assert_close(r->kettle.efficiency, wf_brewhouse_efficiency(&b, r->predicted.og), 1e-9);
    assert_close(r->yeast.attenuation, 0.71, 1e-12);
    assert_close(r->kettle.bitterness_factor, 0.8, 1e-12);
    wf_recipe_free(r);
}

/* One that was made for an efficiency within half a point of that keeps it; one that was not does
 * not. */
static void a_recipe_made_for_it_keeps_its_efficiency(void **state)
{
    static const struct {
        double efficiency;
        bool kept;
    } row[] = {{0.725, true}, {0.72, true}, {0.75, false}, {0.68, false}};
    struct wf_brewhouse b = learnt_brewhouse();
    (void)state;
    for (size_t i = 0; i < COUNT_OF(row); i++) {
        char text[300];
        snprintf(text, sizeof text,
                 "{ \"recipe\": \"r\", \"kettle\": { \"efficiency\": %g }, \"malts\": ["
                 "{ \"id\": \"pilsner-malt\", \"kg\": 4.63 }] }",
                 row[i].efficiency);
        struct wf_recipe *r = read_on(text, &b);
        assert_close(r->predicted.og, 1.050, 0.002);
        assert_int_equal(r->kettle.efficiency == row[i].efficiency, row[i].kept);
        wf_recipe_free(r);
    }
}

static void a_scaled_recipe_goes_by_it(void **state)
{
    struct wf_brewhouse b = learnt_brewhouse();
    struct wf_recipe *r = read_on(amber, NULL), *scaled = NULL;
    struct wf_scale_options o = {.batch_l = 30, .brewhouse = &b};
    (void)state;
    assert_int_equal(wf_recipe_scale(r, &o, &scaled, NULL), WF_OK);
    assert_close(scaled->kettle.efficiency, wf_brewhouse_efficiency(&b, r->predicted.og), 1e-12);
    assert_close(scaled->yeast.attenuation, 0.71, 1e-12);
    assert_close(scaled->predicted.og, r->predicted.og, 0.001);
    assert_close(scaled->predicted.ibu, r->predicted.ibu, 3); /* late hops keep their dose */
    assert_close(scaled->kettle.colour_factor, 1.25, 1e-12);
    wf_recipe_free(scaled);
    wf_recipe_free(r);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(efficiency_falls_with_gravity),
        cmocka_unit_test(a_solve_goes_by_it),
        cmocka_unit_test(a_recipe_is_reckoned_by_it),
        cmocka_unit_test(a_recipe_made_for_it_keeps_its_efficiency),
        cmocka_unit_test(a_scaled_recipe_goes_by_it),
    };
    return cmocka_run_group_tests_name("learnt", tests, set_up, tear_down);
}
