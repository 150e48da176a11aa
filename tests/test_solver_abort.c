/*
 * When GLPK gives up. It aborts the process at its memory limit, which this program sets by GLPK's
 * own call, so that it happens at many places: while a model is loaded, in the simplex, in branch
 * and bound. Each time the call must come back, nothing may leak, and the next call must work.
 */
#include "support/test.h"

#include "solve/solver.h"
#include "support/dice.h"

#include <pthread.h>

/* Of GLPK: its header has one door, and tests do not go through it. */
int glp_init_env(void);
int glp_free_env(void);
void glp_mem_limit(int megabytes);

/* A knapsack with many rows: hard enough that branch and bound stores a tree. */
static struct wf_model *large(int columns, int rows)
{
    struct wf_model *m = wf_model_new();
    struct dice d = {31};
    for (int j = 0; j < columns; j++)
        wf_model_column(m, 0, 1, -dice_decimal(&d, 50, 99, 1), true, "c");
    for (int i = 0; i < rows; i++) {
        double sum = 0;
        int row = wf_model_row(m, 0, 0, "r");
        for (int j = 0; j < columns; j++) {
            double a = dice_decimal(&d, 50, 99, 1);
            wf_model_term(m, row, j, a);
            sum += a;
        }
        wf_model_set_row(m, row, -HUGE_VAL, floor(sum / 3));
    }
    return m;
}

static double value_of(const struct wf_model *m)
{
    struct wf_solver_options o = {.relax = true, .cutoff = nan("")};
    struct wf_solution s;
    assert_int_equal(wf_solver_run(m, &o, &s, NULL), WF_OK);
    assert_int_equal(s.outcome, WF_OUTCOME_OPTIMAL);
    double value = s.value;
    wf_solution_clear(&s);
    return value;
}

static void while_a_model_is_loaded(void **state)
{
    (void)state;
    struct wf_model *m = large(300, 300);
    double truth = value_of(m);
    for (int again = 0; again < 3; again++) {
        struct wf_lp *lp = NULL;
        struct wf_error e = {0};
        assert_int_equal(glp_init_env(), 0);
        glp_mem_limit(1);
        assert_int_equal(wf_lp_open(m, &lp, &e), WF_INTERNAL);
        assert_null(lp);
        assert_non_null(strstr(e.text, "the solver gave up: "));
        assert_non_null(strstr(e.text, "memory"));
        assert_null(strchr(e.text, '\n')); /* one message, one line */
        assert_close(value_of(m), truth, 1e-9 * fabs(truth));
    }
    wf_model_free(m);
}

/* wf_solver_run tries again after an abort, in a new environment without the limit. */
static void a_run_recovers_by_itself(void **state)
{
    (void)state;
    static const int sides[] = {40, 80, 120, 160, 200, 240, 280};
    for (size_t i = 0; i < COUNT_OF(sides); i++) {
        struct wf_model *m = large(sides[i], sides[i]);
        double truth = value_of(m);
        glp_init_env();
        glp_mem_limit(1);
        assert_close(value_of(m), truth, 1e-9 * fabs(truth));
        glp_free_env(); /* ours, where there was no abort */
        wf_model_free(m);
    }
}

/* Sizes that are loaded, but run out in the solve. (At some others GLPK 5.0 itself leaks: it
 * forgets a block that it could not enlarge.) */
static void in_the_simplex(void **state)
{
    (void)state;
    for (int size = 112; size <= 124; size += 4) {
        struct wf_model *m = large(size, size);
        struct wf_lp *lp = NULL;
        struct wf_lp_answer a = {0};
        glp_init_env();
        glp_mem_limit(1);
        assert_int_equal(wf_lp_open(m, &lp, NULL), WF_OK);
        assert_int_equal(wf_lp_solve(lp, HUGE_VAL, &a, NULL), WF_INTERNAL);
        assert_int_equal(wf_lp_solve(lp, HUGE_VAL, &a, NULL), WF_INTERNAL);
        wf_lp_close(lp);
        value_of(m);
        wf_model_free(m);
    }
}

/* Progress is told from the middle of branch and bound: there GLPK is misused, which it punishes as
 * it does its own failures. */
static void misuse(void *data, double value, double bound)
{
    int *left = data;
    (void)value;
    (void)bound;
    if (*left > 0 && --*left % 2 == 0)
        glp_mem_limit(0);
}

static void in_branch_and_bound(void **state)
{
    (void)state;
    for (int calls = 0; calls <= 5; calls++) {
        struct wf_model *m = large(25, 3);
        int left = calls;
        struct wf_solver_options o = {
            .cutoff = nan(""), .gap = 0.02, .progress = misuse, .progress_data = &left};
        struct wf_solution s;
        struct wf_error e = {0};
        enum wf_status status = wf_solver_run(m, &o, &s, &e);
        assert_int_equal(glp_init_env(), 0); /* nothing is left of GLPK */
        glp_free_env();
        assert_int_equal(status, calls < 3 ? WF_OK : WF_INTERNAL); /* from 3 on twice */
        if (status == WF_OK)
            assert_int_equal(s.outcome, WF_OUTCOME_OPTIMAL);
        else
            assert_non_null(strstr(e.text, "glp_mem_limit"));
        wf_solution_clear(&s);
        wf_model_free(m);
    }
}

/* One abort takes all open programs of the thread with it; they say so, and close. */
static void open_programs_are_lost_and_say_so(void **state)
{
    (void)state;
    struct wf_model *small = large(5, 5), *big = large(300, 300);
    struct wf_lp *lp[3], *lost = NULL;
    struct wf_lp_answer a = {0};
    struct wf_error e = {0};
    for (size_t i = 0; i < COUNT_OF(lp); i++) {
        assert_int_equal(wf_lp_open(small, &lp[i], NULL), WF_OK);
        assert_int_equal(wf_lp_solve(lp[i], HUGE_VAL, &a, NULL), WF_OK);
    }
    glp_mem_limit(1);
    assert_int_equal(wf_lp_open(big, &lost, NULL), WF_INTERNAL);
    wf_lp_bounds(lp[0], 0, 0, 0);
    wf_lp_row(lp[0], 0, 0, 1);
    wf_lp_cost(lp[0], 0, 1);
    assert_int_equal(wf_lp_solve(lp[0], HUGE_VAL, &a, &e), WF_INTERNAL);
    assert_non_null(strstr(e.text, "gave up in an earlier call"));
    wf_lp_close(lp[1]); /* before a new environment is made ... */
    struct wf_lp *fresh = NULL;
    assert_int_equal(wf_lp_open(small, &fresh, NULL), WF_OK);
    assert_int_equal(wf_lp_solve(lp[2], HUGE_VAL, &a, NULL), WF_INTERNAL);
    wf_lp_close(lp[0]); /* ... and after, which must not take the new one with it */
    wf_lp_close(lp[2]);
    assert_int_equal(wf_lp_solve(fresh, HUGE_VAL, &a, NULL), WF_OK);
    assert_int_equal(a.outcome, WF_OUTCOME_OPTIMAL);
    wf_lp_close(fresh);
    assert_int_equal(glp_init_env(), 0); /* with the last program its environment went */
    glp_free_env();
    wf_model_free(small);
    wf_model_free(big);
}

/* The environment of a program that uses GLPK itself is left alone. */
static void an_environment_that_was_there_stays(void **state)
{
    (void)state;
    struct wf_model *m = large(5, 5);
    assert_int_equal(glp_init_env(), 0);
    value_of(m);
    assert_int_equal(glp_init_env(), 1);
    glp_free_env();
    value_of(m);
    assert_int_equal(glp_init_env(), 0);
    glp_free_env();
    wf_model_free(m);
}

/* ---- Threads --------------------------------------------------------------------------------- */

struct job {
    int size;
    double truth;
    bool ok;
};

static double solve_quietly(const struct wf_model *m)
{
    struct wf_solver_options o = {.relax = true, .cutoff = nan("")};
    struct wf_solution s;
    double value = wf_solver_run(m, &o, &s, NULL) == WF_OK ? s.value : nan("");
    wf_solution_clear(&s);
    return value;
}

/* Every second round ends in an abort, which must not disturb the other thread. */
static void *work(void *data)
{
    struct job *job = data;
    struct wf_model *m = large(job->size, job->size), *big = large(300, 300);
    job->ok = true;
    for (int k = 0; k < 10; k++) {
        struct wf_lp *lp = NULL;
        if (k % 2 == 1) {
            glp_init_env();
            glp_mem_limit(1);
            job->ok &= wf_lp_open(big, &lp, NULL) == WF_INTERNAL;
            wf_lp_close(lp);
        }
        job->ok &= fabs(solve_quietly(m) - job->truth) <= 1e-9 * fabs(job->truth);
    }
    wf_model_free(m);
    wf_model_free(big);
    return NULL;
}

static void threads_do_not_disturb_each_other(void **state)
{
    (void)state;
    struct job jobs[] = {{.size = 20}, {.size = 35}};
    pthread_t threads[COUNT_OF(jobs)];
    for (size_t i = 0; i < COUNT_OF(jobs); i++) {
        struct wf_model *m = large(jobs[i].size, jobs[i].size);
        jobs[i].truth = value_of(m);
        wf_model_free(m);
    }
    for (size_t i = 0; i < COUNT_OF(jobs); i++)
        assert_int_equal(pthread_create(&threads[i], NULL, work, &jobs[i]), 0);
    for (size_t i = 0; i < COUNT_OF(jobs); i++)
        assert_int_equal(pthread_join(threads[i], NULL), 0);
    for (size_t i = 0; i < COUNT_OF(jobs); i++)
        assert_true(jobs[i].ok);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(while_a_model_is_loaded),
        cmocka_unit_test(a_run_recovers_by_itself),
        cmocka_unit_test(in_the_simplex),
        cmocka_unit_test(in_branch_and_bound),
        cmocka_unit_test(open_programs_are_lost_and_say_so),
        cmocka_unit_test(an_environment_that_was_there_stays),
        cmocka_unit_test(threads_do_not_disturb_each_other),
    };
    return cmocka_run_group_tests_name("solver, giving up", tests, NULL, NULL) != 0;
}
