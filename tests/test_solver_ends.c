/* The solver: every end that a solve can come to, one test each. */
#include "support/test.h"

#include "solve/solver.h"
#include "support/solver_models.h"

static volatile bool stop;

static void stop_at_point(void *data, double value, double bound)
{
    (void)data;
    (void)bound;
    stop = !isnan(value);
}

static struct end {
    const char *name;
    struct wf_model *(*make)(void);
    bool relax, cancel;
    double seconds, gap, cutoff; /* cutoff 0: none */
    long nodes;
    void (*progress)(void *data, double value, double bound);
    enum wf_outcome outcome;
    bool point;
} ends[] = {
    {.name = "an optimum", .make = easy, .outcome = WF_OUTCOME_OPTIMAL, .point = true},
    {.name = "a relaxed optimum",
     .make = easy,
     .relax = true,
     .outcome = WF_OUTCOME_OPTIMAL,
     .point = true},
    {.name = "stopped at the gap",
     .make = split_slack,
     .gap = 1,
     .outcome = WF_OUTCOME_OPTIMAL,
     .point = true},
    {.name = "out of time without a point",
     .make = split,
     .seconds = 0.02,
     .outcome = WF_OUTCOME_UNKNOWN},
    {.name = "out of time with a point",
     .make = split_slack,
     .seconds = 1,
     .outcome = WF_OUTCOME_FEASIBLE,
     .point = true},
    {.name = "out of time at once", .make = easy, .seconds = 1e-9, .outcome = WF_OUTCOME_UNKNOWN},
    {.name = "out of nodes without a point",
     .make = split,
     .nodes = 50,
     .outcome = WF_OUTCOME_UNKNOWN},
    {.name = "out of nodes with a point",
     .make = split_slack,
     .nodes = 2000,
     .outcome = WF_OUTCOME_FEASIBLE,
     .point = true},
    {.name = "cancelled before", .make = easy, .cancel = true, .outcome = WF_OUTCOME_UNKNOWN},
    {.name = "cancelled at the first point",
     .make = split_slack,
     .progress = stop_at_point,
     .outcome = WF_OUTCOME_FEASIBLE,
     .point = true},
    {.name = "no point at all", .make = lp_infeasible, .outcome = WF_OUTCOME_INFEASIBLE},
    {.name = "no whole point, seen by presolve", .make = between, .outcome = WF_OUTCOME_INFEASIBLE},
    {.name = "no whole point, found by branching",
     .make = parity_easy,
     .outcome = WF_OUTCOME_INFEASIBLE},
    {.name = "unbounded", .make = unbounded, .outcome = WF_OUTCOME_UNBOUNDED},
    {.name = "unbounded far below any cutoff",
     .make = unbounded,
     .cutoff = -1e6,
     .outcome = WF_OUTCOME_UNBOUNDED},
    {.name = "unbounded and relaxed",
     .make = unbounded,
     .relax = true,
     .outcome = WF_OUTCOME_UNBOUNDED},
    {.name = "unbounded only while relaxed",
     .make = unbounded_empty,
     .outcome = WF_OUTCOME_INFEASIBLE},
    {.name = "a fixed whole column", .make = fixed, .outcome = WF_OUTCOME_OPTIMAL, .point = true},
};

static void one_end(void **state)
{
    const struct end *n = *state;
    struct wf_model *m = n->make();
    struct wf_solver_options o = {.relax = n->relax,
                                  .seconds = n->seconds,
                                  .nodes = n->nodes,
                                  .gap = n->gap,
                                  .cutoff = n->cutoff == 0 ? nan("") : n->cutoff,
                                  .cancel = &stop,
                                  .progress = n->progress};
    struct wf_solution s;
    stop = n->cancel;
    assert_int_equal(wf_solver_run(m, &o, &s, NULL), WF_OK);
    assert_int_equal(s.outcome, n->outcome);
    assert_true((s.x != NULL) == n->point);
    assert_true((s.dual != NULL) == (n->relax && n->point));
    if (n->point) {
        assert_close(s.value, wf_model_value(m, s.x), 0);
        assert_true(s.bound <= s.value);
        assert_true(s.value - s.bound <= n->gap * fabs(s.value) + 1e-6 ||
                    s.outcome == WF_OUTCOME_FEASIBLE);
        double missed =
            n->relax ? wf_model_violation_relaxed(m, s.x, NULL) : wf_model_violation(m, s.x, NULL);
        assert_true(missed <= WF_SOLVER_TOLERANCE);
    } else {
        assert_true(isnan(s.value));
        if (s.outcome == WF_OUTCOME_INFEASIBLE)
            assert_true(s.bound == HUGE_VAL);
    }
    wf_solution_clear(&s);
    assert_null(s.x);
    wf_model_free(m);
}

int main(void)
{
    struct CMUnitTest each[COUNT_OF(ends)];
    for (size_t i = 0; i < COUNT_OF(ends); i++)
        each[i] = (struct CMUnitTest){
            .name = ends[i].name, .test_func = one_end, .initial_state = &ends[i]};
    return _cmocka_run_group_tests("solver, ends", each, COUNT_OF(each), NULL, NULL) != 0;
}
