/*
 * A problem as the models see it: how fresh its lots are; and where the law of colour ends, when no
 * wish keeps the grist below it.
 */
#include "support/test.h"
#include "support/with_catalogue.h"

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
    } rows[] = {
        {"", WF_OK},
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

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(freshness_is_measured_from_the_oldest),
        cmocka_unit_test(no_recipe_is_past_the_law_of_colour),
    };
    return cmocka_run_group_tests(tests, set_up, tear_down);
}
