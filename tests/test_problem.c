/*
 * A problem as the models see it: how fresh its lots are; where the law of colour ends, when no
 * wish keeps the grist below it; what a miss costs where the nearest
 * recipe is looked for; and which columns of the whole model are the weights.
 */
#include "support/test.h"
#include "support/with_catalogue.h"

#include "model/grist_model.h"
#include "model/joint_model.h"
#include "model/problem.h"
#include "wortfit/wortfit.h"

static struct wf_target *target;
static struct wf_store *store;
static struct wf_brewhouse brewhouse;

static void read_both(const char *target_text, const char *store_text)
{
    wf_error_clear(&error);
    wf_brewhouse_default(WF_UNITS_METRIC, &brewhouse);
    if (wf_target_parse("t", target_text, strlen(target_text), catalogue, &target, &error) !=
            WF_OK ||
        wf_store_parse("s", store_text, strlen(store_text), catalogue, &store, &error) != WF_OK)
        fail_msg("%s", error.text);
}

static void free_both(void)
{
    wf_target_free(target);
    wf_store_free(store);
}

/* ---- Freshness ------------------------------------------------------------------------------- */

#define AGED                                                                                       \
    "{\"store\": \"s\", \"malts\": ["                                                              \
    "{\"id\": \"pale-ale-malt-british\", \"have\": \"9 kg\", \"packed\": \"%s\"},"                 \
    "{\"id\": \"vienna-malt\", \"have\": \"9 kg\", \"packed\": \"%s\"}],"                          \
    " \"hops\": [{\"id\": \"magnum\", \"have\": \"90 g\", \"packed\": \"%s\"},"                    \
    "{\"id\": \"cascade\", \"have\": \"90 g\", \"packed\": \"%s\"}]}"

/* By hand: 2026-11-25 is 100 days after 2026-08-17, 50 after 2026-10-06, 25 after 2026-10-31. */
static void freshness_is_measured_from_the_oldest(void **state)
{
    static const struct {
        const char *packed[4]; /* two malts, two hops */
        double fresh[4];
    } rows[] = {
        {{"2026-08-17", "2026-10-06", "2026-10-31", "2026-11-25"}, {0, 0.5, 0.75, 1}},
        {{"2026-10-06", "2026-10-31", "2026-08-17", "2026-10-06"}, {0.5, 0.75, 0, 0.5}},
        {{"2026-10-31", "2026-10-31", "2026-10-06", "2026-10-31"}, {0.5, 0.5, 0, 0.5}},
        {{"2026-11-25", "2026-11-25", "2026-11-25", "2026-11-25"}, {1, 1, 1, 1}},
    };
    const long today = 20782; /* 2026-11-25, as days since 1970-01-01 */
    (void)state;
    for (size_t i = 0; i < COUNT_OF(rows); i++) {
        const char *const *at = rows[i].packed;
        struct wf_problem p;
        char text[600];
        snprintf(text, sizeof text, AGED, at[0], at[1], at[2], at[3]);
        read_both("{\"target\": \"t\", \"og\": 1.050, \"hops\": [{\"at\": \"60 min\"}]}", text);
        assert_int_equal(wf_problem_make(target, store, &brewhouse, today, &p, &error), WF_OK);
        for (size_t k = 0; k < 2; k++) {
            assert_close(p.malts[k].fresh, rows[i].fresh[k], 1e-12);
            assert_close(p.hops[k].fresh, rows[i].fresh[2 + k], 1e-12);
        }
        wf_problem_free(&p);
        free_both();
    }
}

/* ---- The end of the law of colour ------------------------------------------------------------ */

/* Roast malt for next to nothing, in any share; pale malt dear, with enzymes for both. */
#define BLACK                                                                                      \
    "{\"store\": \"s\", \"currency\": \"EUR\", \"malts\": ["                                       \
    "{\"id\": \"black-malt\", \"have\": \"20 kg\", \"colour\": \"750 Lov\", \"price\": "           \
    "\"0.01/kg\", \"most\": \"100 %\"},"                                                           \
    "{\"id\": \"pale-ale-malt-british\", \"have\": \"20 kg\", \"price\": \"9/kg\", "               \
    "\"diastatic\": \"150 Lintner\"}],"                                                            \
    " \"hops\": [{\"id\": \"magnum\", \"have\": \"90 g\", \"price\": \"0.05/g\"}]}"

/* As dark as the law goes, since each step of roast saves money: less than a step of pale malt
 * short of it, of which 50 g are made up for by 57 g of roast, 18 MCU. The same with wishes that
 * cannot be met, where the nearest recipe is looked for. */
static void no_recipe_is_past_the_law_of_colour(void **state)
{
    static const struct {
        const char *more;
        enum wf_status status;
    } rows[] = {{"", WF_OK},
                {", \"diastatic\": \">= 200 Lintner\"", WF_NO_RECIPE},
                {", \"diastatic\": \">= 200 Lintner\", \"colour\": \"90..100 SRM\"", WF_NO_RECIPE}};
    const struct wf_solve_options o = {
        .goals = {WF_GOAL_COST}, .goal_count = 1, .seconds = 20, .today = WF_NO_DATE};
    (void)state;
    for (size_t i = 0; i < COUNT_OF(rows); i++) {
        struct wf_recipe *r = NULL;
        double mcu;
        char text[300];
        snprintf(
            text, sizeof text,
            "{\"target\": \"t\", \"og\": \"1.110..1.114\"%s, \"hops\": [{\"at\": \"60 min\"}]}",
            rows[i].more);
        read_both(text, BLACK);
        enum wf_status status = wf_solve(target, store, &brewhouse, &o, &r, &error);
        if (status != rows[i].status)
            fail_msg("row %zu: %s: %s", i, wf_status_text(status), error.text);
        assert_non_null(r);
        assert_int_equal(wf_mcu_from_srm(r->predicted.srm, &mcu), WF_OK);
        assert_true(mcu <= WF_MCU_MOST);
        if (i == 0)
            assert_true(mcu > WF_MCU_MOST - 18);
        wf_recipe_free(r);
        free_both();
    }
}

/* ---- Notches --------------------------------------------------------------------------------- */

/* What the first column of cost 1 in the row of that label counts a unit, kg: one notch. */
static double notch_of(const struct wf_model *m, const char *label)
{
    static int columns[64];
    static double values[64];
    for (int row = 0; row < wf_model_rows(m); row++) {
        if (strcmp(wf_model_row_label(m, row), label) != 0)
            continue;
        int count = wf_model_row_terms(m, row, columns, values);
        for (int i = 0; i < count; i++)
            if (wf_model_cost(m, columns[i]) > 0)
                return fabs(values[i]) / wf_model_cost(m, columns[i]);
    }
    fail_msg("no row is called %s", label);
    return (double)NAN;
}

/* 20 L of 1.050, which is 12.39 P, hold 0.1239 x 1.050 x 0.9982 x 20 = 2.597 kg of extract; that is
 * in about 2.597 / 0.8 / efficiency kg of malt. A notch is 1 % of those, a quarter of a point of
 * character, and 5 Lintner of all of them. */
static void what_is_missed_is_told_in_notches(void **state)
{
    struct wf_problem p;
    struct wf_grist_model g;
    const struct wf_grist_options o = {.og_low = 1.048, .og_high = 1.050, .elastic = true};
    (void)state;
    read_both("{\"target\": \"t\", \"og\": \"1.048..1.050\", \"diastatic\": \">= 60 Lintner\","
              " \"grist\": [{\"class\": \"roast\", \"share\": \">= 5 %\"}],"
              " \"character\": {\"toast\": \">= 2\"}, \"hops\": [{\"at\": \"60 min\"}]}",
              BLACK);
    assert_int_equal(wf_problem_make(target, store, &brewhouse, WF_NO_DATE, &p, &error), WF_OK);
    assert_int_equal(wf_grist_model_make(&p, &o, &g, &error), WF_OK);
    double about_kg = 2.597 / 0.8 / p.kettle.efficiency;
    assert_close(notch_of(g.model, "roast malts"), 0.01 * about_kg, 1e-3 * about_kg / 100);
    assert_close(notch_of(g.model, "toast"), 0.25 * about_kg, 0.25e-3 * about_kg);
    assert_close(notch_of(g.model, "diastatic power"), 5 * about_kg, 5e-3 * about_kg);
    wf_grist_model_free(&g);
    wf_problem_free(&p);
    free_both();
}

/* ---- Columns --------------------------------------------------------------------------------- */

/* Which columns of the whole model are the weights, as a plan of several beers is told. */
static void columns_of_the_weights_are_told(void **state)
{
    struct wf_problem p;
    struct wf_model *m = NULL;
    int malts[2], places[4];
    (void)state;
    read_both(
        "{\"target\": \"t\", \"og\": 1.050, \"ratio\": 0.5,"
        " \"hops\": [{\"at\": \"60 min\"}, {\"at\": \"10 min\"}]}",
        "{\"store\": \"s\", \"malts\": ["
        "{\"id\": \"pale-ale-malt-british\", \"have\": \"9 kg\"},"
        "{\"id\": \"vienna-malt\", \"have\": \"8 kg\"}], \"hops\": ["
        "{\"id\": \"magnum\", \"have\": \"90 g\"}, {\"id\": \"cascade\", \"have\": \"70 g\"}]}");
    assert_int_equal(wf_problem_make(target, store, &brewhouse, WF_NO_DATE, &p, &error), WF_OK);
    assert_int_equal(p.malt_count, 2);
    assert_int_equal(p.place_count, 4);
    assert_int_equal(wf_joint_model_block(&p, NULL, WF_GOAL_COST, &m, malts, places, &error),
                     WF_OK);
    for (size_t i = 0; i < 2; i++) {
        assert_non_null(strstr(wf_model_column_label(m, malts[i]), p.malts[i].lot->id));
        assert_true(wf_model_integer(m, malts[i]) && wf_model_high(m, malts[i]) > 1);
    }
    for (size_t i = 0; i < 4; i++) {
        const char *hop = p.hops[p.places[i].hop].lot->id;
        assert_non_null(strstr(wf_model_column_label(m, places[i]), hop));
        assert_true(wf_model_integer(m, places[i]) && wf_model_high(m, places[i]) > 1);
        for (size_t k = 0; k < i; k++)
            assert_true(places[k] != places[i]);
    }
    wf_model_free(m);
    wf_problem_free(&p);
    free_both();
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(freshness_is_measured_from_the_oldest),
        cmocka_unit_test(no_recipe_is_past_the_law_of_colour),
        cmocka_unit_test(what_is_missed_is_told_in_notches),
        cmocka_unit_test(columns_of_the_weights_are_told),
    };
    return cmocka_run_group_tests(tests, set_up, tear_down);
}
