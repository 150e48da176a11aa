/*
 * A problem as the models see it: how fresh its lots are; where the law of colour ends, when no
 * wish keeps the grist below it; what a miss costs where the nearest
 * recipe is looked for; what final gravity and alcohol allow; and which columns of the whole model
 * are the weights.
 */
#include "support/test.h"
#include "support/with_catalogue.h"

#include "model/grist_model.h"
#include "model/joint_model.h"
#include "model/problem.h"
#include "model/wish_rows.h"
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

/* ---- Final gravity and alcohol --------------------------------------------------------------- */

static int row_called(const struct wf_model *m, const char *label, bool at_most)
{
    for (int row = 0; row < wf_model_rows(m); row++)
        if (strcmp(wf_model_row_label(m, row), label) == 0 &&
            isfinite(at_most ? wf_model_row_high(m, row) : wf_model_row_low(m, row)))
            return row;
    fail_msg("no row is called %s", label);
    return -1;
}

/* Final gravity, or alcohol, of a beer that a share of the extract is left in: forwards. */
static double figure_of(double og, double share, bool alcohol)
{
    double original, apparent, fg, abw, abv;
    assert_int_equal(wf_plato_from_gravity(og, &original), WF_OK);
    assert_int_equal(wf_apparent_extract(original, share * original, &apparent), WF_OK);
    assert_int_equal(wf_gravity_from_plato(apparent, &fg), WF_OK);
    if (!alcohol)
        return fg;
    assert_int_equal(wf_alcohol_by_weight(original, share * original, &abw), WF_OK);
    assert_int_equal(wf_alcohol_by_volume(abw, fg, &abv), WF_OK);
    return abv;
}

static const double SHARES[] = {0.15, 0.9};

/* The share that gives the figure, by bisection; about one of the ends: none does. */
static double share_for(double og, double figure, bool alcohol)
{
    double low = SHARES[0], high = SHARES[1];
    for (int i = 0; i < 60; i++) {
        double middle = (low + high) / 2;
        if ((figure_of(og, middle, alcohol) > figure) == alcohol)
            low = middle;
        else
            high = middle;
    }
    return low;
}

/* Weights of the two malts that make 20 L of this gravity and leave that share of its extract: by
 * Cramer's rule; as a point of the model, where they may be below 0. */
static void mix(const struct wf_problem *p, const struct wf_grist_model *g, double og, double share,
                double *x)
{
    double extract, e[2], r[2];
    assert_int_equal(wf_extract_from_gravity(og, &extract), WF_OK);
    extract *= p->kettle.batch_l;
    for (size_t i = 0; i < 2; i++) {
        e[i] = p->malts[i].extract;
        assert_int_equal(
            wf_residue_per_kg(&p->malts[i].lot->grain, &p->kettle, p->yeasts[0].attenuation, &r[i]),
            WF_OK);
    }
    double d = e[0] * r[1] - e[1] * r[0], residue = share * extract;
    x[g->items[0].weight] = (extract * r[1] - e[1] * residue) / d / g->items[0].step;
    x[g->items[1].weight] = (e[0] * residue - extract * r[0]) / d / g->items[1].step;
}

/* How far the point is beyond the row's bound, kg; < 0: within. */
static double past(const struct wf_model *m, int row, bool most, const double *x)
{
    double value = wf_model_row_value(m, row, x);
    return most ? value - wf_model_row_high(m, row) : wf_model_row_low(m, row) - value;
}

static size_t edges_checked;

/*
 * Over windows as the search cuts them, each recipe at the very edge of a wish is in its row; one
 * that misses the wish by one and a half times the slack (wishes.c: 2e-6) is not.
 */
static void check_edge(const struct wf_problem *p, double low, double high, double edge,
                       bool alcohol, bool at_most)
{
    const struct wf_grist_options o = {.og_low = low, .og_high = high, .yeast = &p->yeasts[0]};
    const double miss = at_most ? 3e-6 : -3e-6;
    struct wf_grist_model g;
    assert_int_equal(wf_grist_model_make(p, &o, &g, &error), WF_OK);
    double *x = calloc((size_t)wf_model_columns(g.model), sizeof *x);
    assert_non_null(x);
    bool most = at_most != alcohol; /* of the residue: it takes from the alcohol */
    int row = row_called(g.model, alcohol ? "alcohol" : "final gravity", most);
    for (int i = 0; i <= 20; i++) {
        double og = low + (high - low) * i / 20, share = share_for(og, edge, alcohol);
        if (share < SHARES[0] + 1e-3 || share > SHARES[1] - 1e-3)
            continue; /* no such beer */
        mix(p, &g, og, share, x);
        double off = past(g.model, row, most, x);
        if (off > 1e-9)
            fail_msg("%g at OG %.5f of %.5f..%.5f: out by %g kg", edge, og, low, high, off);
        mix(p, &g, og, share_for(og, edge + miss, alcohol), x);
        off = past(g.model, row, most, x);
        if (off <= 0)
            fail_msg("%g at OG %.5f of %.5f..%.5f: in by %g kg", edge + miss, og, low, high, -off);
        edges_checked++;
    }
    free(x);
    wf_grist_model_free(&g);
}

static void the_edge_of_a_wish_is_in_its_row(void **state)
{
    static const double windows[][2] = {
        {1.050, 1.050001}, {1.048, 1.052}, {1.040, 1.070}, {1.030, 1.150}};
    (void)state;
    for (size_t w = 0; w < COUNT_OF(windows); w++) {
        struct wf_problem p;
        size_t parts;
        char text[300];
        snprintf(text, sizeof text,
                 "{\"target\": \"t\", \"og\": \"%g..%g\", \"fg\": \"1.011..1.021\","
                 " \"abv\": \"3.5..5 %%\", \"hops\": [{\"at\": \"60 min\"}]}",
                 windows[w][0], windows[w][1]);
        read_both(text, "{\"store\": \"s\", \"malts\": ["
                        "{\"id\": \"pale-ale-malt-british\", \"have\": \"9 kg\"},"
                        "{\"id\": \"crystal-120\", \"have\": \"8 kg\"}], \"hops\": ["
                        "{\"id\": \"magnum\", \"have\": \"90 g\"}], \"yeasts\": ["
                        "{\"id\": \"american-ale-clean\", \"have\": 1}]}");
        assert_int_equal(wf_problem_make(target, store, &brewhouse, WF_NO_DATE, &p, &error), WF_OK);
        assert_int_equal(wf_residue_parts(target->fg, target->abv, p.og.low, p.og.high, &parts),
                         WF_OK);
        for (size_t i = 0; i < parts; i++) {
            double width = (p.og.high - p.og.low) / (double)parts;
            double low = p.og.low + width * (double)i, high = low + width;
            check_edge(&p, low, high, target->abv.low, true, false);
            check_edge(&p, low, high, target->fg.high, false, true);
            check_edge(&p, low, high, target->fg.low, false, false);
            check_edge(&p, low, high, target->abv.high, true, true);
        }
        wf_problem_free(&p);
        free_both();
    }
    assert_true(edges_checked > 1500);
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
        cmocka_unit_test(the_edge_of_a_wish_is_in_its_row),
        cmocka_unit_test(columns_of_the_weights_are_told),
    };
    return cmocka_run_group_tests(tests, set_up, tear_down);
}
