/* An engine that lies about whole points and their bounds: solver.c must find it out. */
#include "support/test.h"

#include "support/scripted_engine.h"

/* The whole columns fixed: y at 1, x follows. */
#define REPAIRED                                                                                   \
    {                                                                                              \
        .outcome = WF_OUTCOME_OPTIMAL, .value = 2, .x = {0.5, 1}, .dual = 2                        \
    }
#define NOT_REPAIRED                                                                               \
    {                                                                                              \
        .unknown = true                                                                            \
    }

static struct search_case {
    const char *name;
    double gap, cutoff;
    struct lp_claim lp[SCRIPT_MOST];
    struct search_claim claims[SCRIPT_MOST];
    enum wf_status status;
    int searches;
    enum wf_outcome outcome;
    double value, bound;
} search_cases[] = {
    {"a true optimum",
     0,
     (double)NAN,
     {TRUE_OPTIMUM},
     {{WF_OUTCOME_OPTIMAL, 2, {0, 2}}},
     WF_OK,
     1,
     WF_OUTCOME_OPTIMAL,
     2,
     2},
    {"a whole number by rounding",
     0,
     (double)NAN,
     {TRUE_OPTIMUM},
     {{WF_OUTCOME_OPTIMAL, 2, {0, 2.00000001}}},
     WF_OK,
     1,
     WF_OUTCOME_OPTIMAL,
     2,
     2},
    {"rounding breaks a row, and x mends it",
     0,
     (double)NAN,
     {TRUE_OPTIMUM, REPAIRED},
     {{WF_OUTCOME_OPTIMAL, 2, {0.4999, 1.0001}}},
     WF_OK,
     1,
     WF_OUTCOME_OPTIMAL,
     2,
     2},
    {"a better bound than the relaxation's is kept",
     0,
     (double)NAN,
     {TRUE_OPTIMUM},
     {{WF_OUTCOME_FEASIBLE, 1.7, {0, 2}}},
     WF_OK,
     1,
     WF_OUTCOME_FEASIBLE,
     2,
     1.7},
    {"the relaxation's bound is kept",
     0,
     (double)NAN,
     {TRUE_OPTIMUM},
     {{WF_OUTCOME_FEASIBLE, -5, {0, 2}}},
     WF_OK,
     1,
     WF_OUTCOME_FEASIBLE,
     2,
     1.5},
    {"stopped, but within the gap",
     0.2,
     (double)NAN,
     {TRUE_OPTIMUM},
     {{WF_OUTCOME_FEASIBLE, 1.7, {0, 2}}},
     WF_OK,
     1,
     WF_OUTCOME_OPTIMAL,
     2,
     1.7},
    {"stopped without a point",
     0,
     (double)NAN,
     {TRUE_OPTIMUM},
     {{WF_OUTCOME_UNKNOWN, 1.7, {0, 0}}},
     WF_OK,
     1,
     WF_OUTCOME_UNKNOWN,
     (double)NAN,
     1.7},
    {"no point",
     0,
     (double)NAN,
     {TRUE_OPTIMUM},
     {{WF_OUTCOME_INFEASIBLE, HUGE_VAL, {0, 0}}},
     WF_OK,
     1,
     WF_OUTCOME_INFEASIBLE,
     (double)NAN,
     HUGE_VAL},
    {"a point on the way that misses a row is no point",
     0,
     (double)NAN,
     {TRUE_OPTIMUM,
      {.outcome = WF_OUTCOME_OPTIMAL, .value = 1, .x = {0, 1}, .dual = 1},
      NOT_REPAIRED,
      NOT_REPAIRED,
      {.outcome = WF_OUTCOME_OPTIMAL, .value = 1, .x = {0, 1}, .dual = 1}},
     {{WF_OUTCOME_FEASIBLE, 1.7, {0, 1}}},
     WF_OK,
     1,
     WF_OUTCOME_UNKNOWN,
     (double)NAN,
     1.7},
    {"a false optimum, and the truth the careful way",
     0,
     (double)NAN,
     {TRUE_OPTIMUM, NOT_REPAIRED, NOT_REPAIRED, NOT_REPAIRED, NOT_REPAIRED, TRUE_OPTIMUM},
     {{WF_OUTCOME_OPTIMAL, 1, {0, 1}}, {WF_OUTCOME_OPTIMAL, 2, {0.5, 1}}},
     WF_OK,
     2,
     WF_OUTCOME_OPTIMAL,
     2,
     2},
    {"a bound above its point's value, twice",
     0,
     (double)NAN,
     {TRUE_OPTIMUM, TRUE_OPTIMUM},
     {{WF_OUTCOME_FEASIBLE, 2.1, {0, 2}}, {WF_OUTCOME_FEASIBLE, 2.1, {0, 2}}},
     WF_INTERNAL,
     2,
     0,
     0,
     0},
    {"a bound hardly above its point's value",
     0,
     (double)NAN,
     {TRUE_OPTIMUM},
     {{WF_OUTCOME_OPTIMAL, 2 + 1e-7, {0, 2}}},
     WF_OK,
     1,
     WF_OUTCOME_OPTIMAL,
     2,
     2},
    {"an optimum that is none, twice: only its bound is kept",
     0,
     (double)NAN,
     {TRUE_OPTIMUM, TRUE_OPTIMUM},
     {{WF_OUTCOME_OPTIMAL, 1.8, {0, 2}}, {WF_OUTCOME_OPTIMAL, 1.8, {0, 2}}},
     WF_OK,
     2,
     WF_OUTCOME_FEASIBLE,
     2,
     1.8},
    {"giving up, and the truth the careful way",
     0,
     (double)NAN,
     {TRUE_OPTIMUM, TRUE_OPTIMUM},
     {{.outcome = BREAKS}, {WF_OUTCOME_OPTIMAL, 2, {0, 2}}},
     WF_OK,
     2,
     WF_OUTCOME_OPTIMAL,
     2,
     2},
    {"giving up twice",
     0,
     (double)NAN,
     {TRUE_OPTIMUM, TRUE_OPTIMUM},
     {{.outcome = BREAKS}, {.outcome = BREAKS}},
     WF_INTERNAL,
     2,
     0,
     0,
     0},
    {"a point that is NaN",
     0,
     (double)NAN,
     {TRUE_OPTIMUM, {.outcome = BREAKS}, TRUE_OPTIMUM, {.outcome = BREAKS}},
     {{WF_OUTCOME_OPTIMAL, 2, {(double)NAN, 2}}, {WF_OUTCOME_OPTIMAL, 2, {(double)NAN, 2}}},
     WF_INTERNAL,
     2,
     0,
     0,
     0},
    {"an optimum no better than the cutoff",
     0,
     2,
     {TRUE_OPTIMUM},
     {{WF_OUTCOME_OPTIMAL, 2, {0, 2}}},
     WF_OK,
     1,
     WF_OUTCOME_INFEASIBLE,
     (double)NAN,
     2 - 2e-6},
    {"a point on the way no better than the cutoff",
     0,
     2,
     {TRUE_OPTIMUM},
     {{WF_OUTCOME_FEASIBLE, 1.6, {0, 2}}},
     WF_OK,
     1,
     WF_OUTCOME_UNKNOWN,
     (double)NAN,
     1.6},
};

static void check_solution(const struct search_case *c, const struct wf_solution *s)
{
    assert_int_equal(s->outcome, c->outcome);
    if (isinf(c->bound))
        assert_true(s->bound == c->bound);
    else
        assert_close(s->bound, c->bound, 1e-9);
    assert_true((s->x == NULL) == (bool)isnan(c->value));
    if (!s->x)
        return;
    assert_close(s->value, c->value, 1e-12);
    assert_close(s->x[1], round(s->x[1]), 0);
    assert_true(s->x[0] + s->x[1] >= 1.5 - 1e-6);
}

static void one_search_case(void **state)
{
    const struct search_case *c = *state;
    struct wf_model *m = scripted_model();
    struct wf_solver_options o = {.gap = c->gap, .cutoff = c->cutoff};
    struct wf_solution s;
    memset(&script, 0, sizeof script);
    script.lp = c->lp;
    script.search = c->claims;
    assert_int_equal(wf_solver_run(m, &o, &s, NULL), c->status);
    assert_int_equal(script.searches, c->searches);
    for (int i = 0; i < c->searches; i++)
        assert_int_equal(script.careful[i], i > 0);
    if (c->status == WF_OK)
        check_solution(c, &s);
    else
        assert_null(s.x);
    assert_int_equal(script.opened, script.closed);
    wf_solution_clear(&s);
    wf_model_free(m);
}

/* A relaxed optimum that only the last way gives, and with duals that prove less, is not called
 * optimal. */
static void a_relaxed_optimum_needs_its_proof(void **state)
{
    (void)state;
    static const struct lp_claim weak = {
        .outcome = WF_OUTCOME_OPTIMAL, .value = 1.5, .x = {0, 1.5}, .dual = 0.5};
    const struct lp_claim claims[SCRIPT_MOST] = {weak, weak, weak, weak, weak, weak, weak, weak};
    struct wf_model *m = scripted_model();
    struct wf_solver_options o = {.relax = true, .cutoff = nan("")};
    struct wf_solution s;
    memset(&script, 0, sizeof script);
    script.lp = claims;
    assert_int_equal(wf_solver_run(m, &o, &s, NULL), WF_OK);
    assert_int_equal(s.outcome, WF_OUTCOME_FEASIBLE);
    assert_close(s.value, 1.5, 1e-12);
    assert_close(s.bound, 0.75, 1e-12);
    assert_null(s.dual);
    wf_solution_clear(&s);
    wf_model_free(m);
}

int main(void)
{
    const struct CMUnitTest tests[] = {cmocka_unit_test(a_relaxed_optimum_needs_its_proof)};
    struct CMUnitTest each[COUNT_OF(search_cases)];
    for (size_t i = 0; i < COUNT_OF(search_cases); i++)
        each[i] = (struct CMUnitTest){.name = search_cases[i].name,
                                      .test_func = one_search_case,
                                      .initial_state = &search_cases[i]};
    int failed = cmocka_run_group_tests_name("claims", tests, NULL, NULL);
    failed += _cmocka_run_group_tests("claims of a search", each, COUNT_OF(each), NULL, NULL);
    return failed != 0;
}
