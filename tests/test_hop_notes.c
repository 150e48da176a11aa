/*
 * Notes of hops: an answer taken from a wider window, or from an earlier question, is what a search
 * of its own gives.
 */
#include "support/dice.h"
#include "support/test.h"
#include "support/with_catalogue.h"

#include "model/hop_model.h"
#include "solve/hop_notes.h"
#include "solve/joint_parts.h"
#include "solve/solve_parts.h"
#include "wortfit/wortfit.h"

#define OG_LOW  1.044
#define OG_HIGH 1.056

static struct wf_target *target;
static struct wf_store *store;
static struct wf_brewhouse brewhouse;

#define STORE                                                                                      \
    "{\"store\": \"s\", \"currency\": \"EUR\", \"malts\": [{\"id\": \"pilsner-malt\"}], "          \
    "\"hops\": ["                                                                                  \
    "{\"id\": \"magnum\", \"have\": \"60 g\", \"price\": \"0.05/g\"},"                             \
    "{\"id\": \"cascade\", \"have\": \"70 g\", \"price\": \"0.03/g\"},"                            \
    "{\"id\": \"saaz\", \"have\": \"80 g\", \"price\": \"0.04/g\"}]}"

static void read_both(const char *hops)
{
    char text[400];
    snprintf(text, sizeof text, "{\"target\": \"t\", \"og\": \"%g..%g\", %s}", OG_LOW, OG_HIGH,
             hops);
    wf_error_clear(&error);
    wf_brewhouse_default(WF_UNITS_METRIC, &brewhouse);
    if (wf_target_parse("t", text, strlen(text), catalogue, &target, &error) != WF_OK ||
        wf_store_parse("s", STORE, strlen(STORE), catalogue, &store, &error) != WF_OK)
        fail_msg("%s", error.text);
}

static void free_both(void)
{
    wf_target_free(target);
    wf_store_free(store);
}

/* What the hops of a window come to, with notes or, NULL, by a search of its own. */
static struct wf_part_answer ask(const struct wf_problem *p, enum wf_goal goal, double low,
                                 double high, struct wf_hop_notes *notes, double *grams)
{
    const struct wf_solve_options o = {.goals = {goal}, .goal_count = 1, .today = WF_NO_DATE};
    struct wf_clock clock = wf_clock_start(&o);
    enum wf_goal goals[WF_GOAL_COUNT];
    struct wf_search_options options = wf_solve_search_options(&o, goals, &clock);
    struct wf_joint j = {.p = p, .o = &options, .grams = grams, .e = &error};
    struct wf_part_answer a;
    options.hops = notes;
    if (wf_joint_hops(&j, low, high, &a) != WF_OK)
        fail_msg("%s", error.text);
    return a;
}

/* Whether the weights give what is wanted somewhere in the window. */
static bool do_well(const struct wf_problem *p, const double *grams, double low, double high)
{
    struct wf_range wanted;
    double aim[2], ibu;
    assert_int_equal(wf_hop_wanted(p, low, low, high, &wanted, aim), WF_OK);
    assert_int_equal(wf_hop_given(p, low, grams, &ibu), WF_OK);
    return ibu >= wanted.low - 1e-6 && ibu <= wanted.high + 1e-6;
}

/* Windows are drawn, and the notes are those of all before: most answers are taken from them. */
static void compare(const char *hops, enum wf_goal goal, size_t *found)
{
    struct dice d = {20261125};
    struct wf_problem p;
    double grams[2][64];
    read_both(hops);
    assert_int_equal(wf_problem_make(target, store, &brewhouse, WF_NO_DATE, &p, &error), WF_OK);
    const struct wf_search_options o = {.goals = &goal, .goal_count = 1};
    struct wf_hop_notes notes = wf_hop_notes_of(&p, &o);
    size_t noted = 0;
    for (int i = 0; i < 150; i++) {
        double a = dice_decimal(&d, 104400, 105600, 1e5);
        double width = dice_decimal(&d, 0, 100, 1e2) * dice_decimal(&d, 0, 100, 1e4);
        double low = fmax(OG_LOW, a - width), high = fmin(OG_HIGH, a + width);
        struct wf_part_answer with = ask(&p, goal, low, high, &notes, grams[0]);
        struct wf_part_answer own = ask(&p, goal, low, high, NULL, grams[1]);
        size_t now = 0;
        for (const struct wf_hop_note *n = notes.last; n != NULL; n = n->earlier)
            now++;
        *found += now == noted;
        noted = now;
        assert_int_equal(with.x == NULL, own.x == NULL);
        if (own.x == NULL)
            continue;
        double room = 1e-4 * own.value[0] + wf_goal_room(goal);
        assert_close(with.value[0], own.value[0], room);
        assert_close(with.bound[0], own.bound[0], room);
        assert_true(do_well(&p, grams[0], low, high));
        wf_part_answer_clear(&with);
        wf_part_answer_clear(&own);
    }
    wf_hop_notes_clear(&notes);
    wf_problem_free(&p);
    free_both();
}

static void notes_answer_as_a_search_does(void **state)
{
    static const struct {
        const char *hops;
        enum wf_goal goal;
        size_t found_least, found_most; /* of 150 */
    } rows[] = {
        {"\"ratio\": \"0.55..0.6\", \"hops\": [{\"at\": \"60 min\"}, {\"at\": \"10 min\", "
         "\"dose\": "
         "\"1..2 g/L\"}]",
         WF_GOAL_COST, 75, 150},
        {"\"ratio\": \"0.5..0.5001\", \"hops\": [{\"at\": \"60 min\"}]", WF_GOAL_COST, 1, 150},
        {"\"bitterness\": \"24..25 IBU\", \"hops\": [{\"at\": \"60 min\"}, {\"at\": \"10 min\"}]",
         WF_GOAL_FEWEST, 75, 150},
        /* what the aim asks differs from window to window */
        {"\"ratio\": \"0.55..0.6\", \"hops\": [{\"at\": \"60 min\"}]", WF_GOAL_CLOSEST, 0, 10},
    };
    (void)state;
    for (size_t i = 0; i < COUNT_OF(rows); i++) {
        size_t found = 0;
        compare(rows[i].hops, rows[i].goal, &found);
        if (found < rows[i].found_least || found > rows[i].found_most)
            fail_msg("row %zu: %zu of 150 were known", i, found);
    }
}

/* Hops of least cost for all of the window: they do until the window begins where its beers ask
 * for more. */
static void hops_do_up_to_where_more_is_wanted(void **state)
{
    struct wf_problem p;
    double grams[64];
    (void)state;
    read_both("\"ratio\": \"0.55..0.6\", \"hops\": [{\"at\": \"60 min\"}]");
    assert_int_equal(wf_problem_make(target, store, &brewhouse, WF_NO_DATE, &p, &error), WF_OK);
    const struct wf_search_options o = {0};
    struct wf_hop_notes notes = wf_hop_notes_of(&p, &o);
    struct wf_part_answer a = ask(&p, WF_GOAL_COST, OG_LOW, OG_HIGH, NULL, grams);
    double until = wf_hop_notes_serve_until(&notes, grams, OG_LOW, OG_HIGH);
    assert_true(until > OG_LOW && until < OG_LOW + 0.002); /* 1 g is some 0.4 IBU, 0.7 points */
    assert_true(do_well(&p, grams, until - 1e-7, OG_HIGH));
    assert_false(do_well(&p, grams, until + 1e-6, OG_HIGH));
    wf_part_answer_clear(&a);
    wf_problem_free(&p);
    free_both();
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(notes_answer_as_a_search_does),
        cmocka_unit_test(hops_do_up_to_where_more_is_wanted),
    };
    return cmocka_run_group_tests(tests, set_up, tear_down);
}
