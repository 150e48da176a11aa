/* An engine that lies about linear programs: lp.c must find it out. */
#include "support/test.h"

#include "support/scripted_engine.h"

static struct lp_case {
    const char *name;
    double row_low, cutoff;
    struct lp_claim claims[SCRIPT_MOST];
    enum wf_status status;
    int calls;
    enum wf_outcome outcome;
    double value;
} lp_cases[] = {
    {"the truth is believed at once",
     1.5,
     HUGE_VAL,
     {TRUE_OPTIMUM},
     WF_OK,
     1,
     WF_OUTCOME_OPTIMAL,
     1.5},
    {"no point, without proof, is asked again",
     1.5,
     HUGE_VAL,
     {{.outcome = WF_OUTCOME_INFEASIBLE, .dual = 1}, TRUE_OPTIMUM},
     WF_OK,
     2,
     WF_OUTCOME_OPTIMAL,
     1.5},
    {"no point, with a proof",
     14,
     HUGE_VAL,
     {{.outcome = WF_OUTCOME_INFEASIBLE, .dual = 3}},
     WF_OK,
     1,
     WF_OUTCOME_INFEASIBLE,
     HUGE_VAL},
    {"no point, with a proof of the wrong sign",
     14,
     HUGE_VAL,
     {{.outcome = WF_OUTCOME_INFEASIBLE, .dual = -3},
      {.outcome = WF_OUTCOME_INFEASIBLE, .dual = 1}},
     WF_OK,
     2,
     WF_OUTCOME_INFEASIBLE,
     HUGE_VAL},
    {"a point off its row is asked again",
     1.5,
     HUGE_VAL,
     {{.outcome = WF_OUTCOME_OPTIMAL, .value = 1.5, .x = {0, 1.499}, .dual = 1}, TRUE_OPTIMUM},
     WF_OK,
     2,
     WF_OUTCOME_OPTIMAL,
     1.5},
    {"a point out of its bounds is asked again",
     1.5,
     HUGE_VAL,
     {{.outcome = WF_OUTCOME_OPTIMAL, .value = 1.5, .x = {-1, 2.5}, .dual = 1}, TRUE_OPTIMUM},
     WF_OK,
     2,
     WF_OUTCOME_OPTIMAL,
     1.5},
    {"a point that is NaN is asked again",
     1.5,
     HUGE_VAL,
     {{.outcome = WF_OUTCOME_OPTIMAL, .value = 1.5, .x = {0, (double)NAN}, .dual = 1},
      TRUE_OPTIMUM},
     WF_OK,
     2,
     WF_OUTCOME_OPTIMAL,
     1.5},
    {"duals that prove less are asked again",
     1.5,
     HUGE_VAL,
     {{.outcome = WF_OUTCOME_OPTIMAL, .value = 1.5, .x = {0, 1.5}, .dual = 0.9}, TRUE_OPTIMUM},
     WF_OK,
     2,
     WF_OUTCOME_OPTIMAL,
     1.5},
    {"a cutoff that is not proved is asked again",
     1.5,
     1.4,
     {{.outcome = WF_OUTCOME_INFEASIBLE, .at_cutoff = true, .dual = 0.5}, TRUE_OPTIMUM},
     WF_OK,
     2,
     WF_OUTCOME_INFEASIBLE,
     1.5},
    {"a cutoff that is proved",
     1.5,
     1.4,
     {{.outcome = WF_OUTCOME_INFEASIBLE, .at_cutoff = true, .dual = 0.95}},
     WF_OK,
     1,
     WF_OUTCOME_INFEASIBLE,
     1.425},
    {"no answer is asked again",
     1.5,
     HUGE_VAL,
     {{.unknown = true}, TRUE_OPTIMUM},
     WF_OK,
     2,
     WF_OUTCOME_OPTIMAL,
     1.5},
    {"no answer in any way",
     1.5,
     HUGE_VAL,
     {{.unknown = true}, {.unknown = true}, {.unknown = true}, {.unknown = true}},
     WF_INTERNAL,
     4,
     0,
     0},
    {"giving up is not asked again", 1.5, HUGE_VAL, {{.outcome = BREAKS}}, WF_INTERNAL, 1, 0, 0},
    {"the last way is believed, at the value that is proved",
     1.5,
     HUGE_VAL,
     {{.unknown = true},
      {.unknown = true},
      {.unknown = true},
      {.outcome = WF_OUTCOME_OPTIMAL, .value = 1.5, .x = {0, 1.5}, .dual = 0.5}},
     WF_OK,
     4,
     WF_OUTCOME_OPTIMAL,
     0.75},
    {"out of time is believed",
     1.5,
     HUGE_VAL,
     {{.outcome = WF_OUTCOME_UNKNOWN}},
     WF_OK,
     1,
     WF_OUTCOME_UNKNOWN,
     -HUGE_VAL},
};

static void one_lp_case(void **state)
{
    const struct lp_case *c = *state;
    struct wf_model *m = scripted_model();
    struct wf_lp *lp;
    double x[2] = {99, 99};
    struct wf_lp_answer a = {.x = x};
    memset(&script, 0, sizeof script);
    script.lp = c->claims;
    wf_model_set_row(m, 0, c->row_low, HUGE_VAL);
    assert_int_equal(wf_lp_open(m, &lp, NULL), WF_OK);
    assert_int_equal(wf_lp_solve(lp, c->cutoff, &a, NULL), c->status);
    assert_int_equal(script.lp_calls, c->calls);
    for (int i = 0; i < c->calls; i++)
        assert_int_equal(script.way[i], i);
    if (c->status == WF_OK) {
        assert_int_equal(a.outcome, c->outcome);
        if (isinf(c->value))
            assert_true(a.value == c->value);
        else
            assert_close(a.value, c->value, 1e-12);
        assert_close(x[1], c->outcome == WF_OUTCOME_OPTIMAL ? 1.5 : 99, 0);
    }
    if (script.lost)
        assert_int_equal(wf_lp_solve(lp, HUGE_VAL, &a, NULL), WF_INTERNAL);
    wf_lp_close(lp);
    assert_int_equal(script.opened, script.closed);
    wf_model_free(m);
}

int main(void)
{
    struct CMUnitTest each[COUNT_OF(lp_cases)];
    for (size_t i = 0; i < COUNT_OF(lp_cases); i++)
        each[i] = (struct CMUnitTest){
            .name = lp_cases[i].name, .test_func = one_lp_case, .initial_state = &lp_cases[i]};
    return _cmocka_run_group_tests("claims of a simplex", each, COUNT_OF(each), NULL, NULL) != 0;
}
