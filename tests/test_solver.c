/* The solver: its answers, its traps, its limits, its manners. */
#include "support/test.h"

#include "base/alloc.h"
#include "solve/solver.h"
#include "support/solver_models.h"

#include <fcntl.h>
#include <time.h>
#include <unistd.h>

static struct wf_solver_options plain(void)
{
    return (struct wf_solver_options){.cutoff = nan("")};
}

static double seconds_now(void)
{
    struct timespec t;
    clock_gettime(CLOCK_MONOTONIC, &t);
    return (double)t.tv_sec + 1e-9 * (double)t.tv_nsec;
}

/* ---- Answers --------------------------------------------------------------------------------- */

static void the_easy_one_is_solved(void **state)
{
    (void)state;
    static const double want[] = {2, 0, 1};
    struct wf_model *m = easy();
    struct wf_solver_options o = plain();
    struct wf_solution s;
    wf_model_set_offset(m, 7);
    assert_int_equal(wf_solver_run(m, &o, &s, NULL), WF_OK);
    assert_close(s.value, 7 - 13, 1e-9);
    assert_close(s.bound, s.value, 1e-6);
    for (int j = 0; j < 3; j++)
        assert_close(s.x[j], want[j], 0); /* exactly whole */
    wf_solution_clear(&s);
    wf_model_free(m);
}

/* min 1000 y, x <= M y, x >= need: a y of need / M hardly looks broken. */
static struct wf_model *big_m(double big, double need)
{
    struct wf_model *m = wf_model_new();
    wf_model_column(m, 0, 10, 0, false, "x");
    wf_model_column(m, 0, 1, 1000, true, "y");
    wf_model_row(m, -HUGE_VAL, 0, "link");
    wf_model_term(m, 0, 0, 1);
    wf_model_term(m, 0, 1, -big);
    wf_model_row(m, need, HUGE_VAL, "need");
    wf_model_term(m, 1, 0, 1);
    return m;
}

static void big_m_does_not_fool(void **state)
{
    (void)state;
    static const double big[] = {10, 1e3, 1e5, 1e6, 1e8, 1e9}, need[] = {5, 0.01, 1e-4};
    for (size_t i = 0; i < COUNT_OF(big); i++) {
        for (size_t k = 0; k < COUNT_OF(need); k++) {
            struct wf_model *m = big_m(big[i], need[k]);
            struct wf_solver_options o = plain();
            struct wf_solution s;
            enum wf_status status = wf_solver_run(m, &o, &s, NULL);
            if (status == WF_OK) { /* the truth, or at least a true bound */
                assert_non_null(s.x);
                assert_close(s.x[1], 1, 0);
                assert_close(s.value, 1000, 1e-9);
                assert_true(s.outcome == WF_OUTCOME_OPTIMAL || s.bound < 1000);
            } else {
                assert_int_equal(status, WF_INTERNAL);
                assert_true(need[k] / big[i] < 2e-9); /* refused only where it is hopeless */
            }
            wf_solution_clear(&s);
            wf_model_free(m);
        }
    }
}

/* Integers as wide as the check allows do not hang the presolver. */
static void wide_integers_end(void **state)
{
    (void)state;
    struct wf_model *m = parity(1e6);
    struct wf_solver_options o = plain();
    struct wf_solution s;
    double start = seconds_now();
    o.seconds = 1;
    assert_int_equal(wf_solver_run(m, &o, &s, NULL), WF_OK);
    assert_true(s.outcome == WF_OUTCOME_INFEASIBLE || s.outcome == WF_OUTCOME_UNKNOWN);
    assert_true(seconds_now() - start < 60);
    wf_solution_clear(&s);
    wf_model_set_bounds(m, 0, 0, HUGE_VAL);
    assert_int_equal(wf_solver_run(m, &o, &s, NULL), WF_INTERNAL);
    assert_null(s.x);
    wf_model_free(m);
}

static void nan_is_refused(void **state)
{
    (void)state;
    for (int where = 0; where < 3; where++) {
        struct wf_model *m = easy();
        struct wf_solver_options o = plain();
        struct wf_solution s;
        struct wf_error e = {0};
        if (where == 0)
            wf_model_set_row(m, 0, nan(""), 5);
        else if (where == 1)
            wf_model_set_cost(m, 0, nan(""));
        else
            wf_model_term(m, 0, 0, nan(""));
        assert_int_equal(wf_solver_run(m, &o, &s, &e), WF_INTERNAL);
        assert_non_null(strstr(e.text, "nan"));
        assert_null(s.x);
        assert_true(isnan(s.value));
        wf_solution_clear(&s);
        wf_model_free(m);
    }
}

/* ---- Limits ---------------------------------------------------------------------------------- */

static void time_is_kept_and_the_bound_is_true(void **state)
{
    (void)state;
    static const double limits[] = {0.001, 0.01, 0.1, 0.4};
    struct wf_model *m = hard(4, true);
    struct wf_solver_options o = plain();
    struct wf_solution best, s;
    double last = -HUGE_VAL;
    o.seconds = 1;
    assert_int_equal(wf_solver_run(m, &o, &best, NULL), WF_OK);
    assert_non_null(best.x);
    for (size_t i = 0; i < COUNT_OF(limits); i++) {
        double start = seconds_now();
        o.seconds = limits[i];
        assert_int_equal(wf_solver_run(m, &o, &s, NULL), WF_OK);
        assert_true(seconds_now() - start <
                    limits[i] + 5); /* valgrind and busy machines are slow */
        assert_true(s.bound <= best.value + 1e-9);
        assert_true(s.x == NULL || s.value >= best.bound - 1e-9);
        last = fmax(last, s.bound);
        wf_solution_clear(&s);
    }
    assert_true(last >= 0); /* slack is not negative, and that was seen */
    wf_solution_clear(&best);
    wf_model_free(m);
}

static void only_better_than_the_cutoff(void **state)
{
    (void)state;
    static const struct {
        double cutoff;
        bool relax, found;
    } rows[] = {
        {-12, false, true},         {-13 + 1e-3, false, true},
        {-13, false, false}, /* 13 is the best */
        {-13 - 1e-3, false, false}, {-20, false, false},
        {1e6, false, true},         {-12, true, true},
        {-13, true, false},         {-20, true, false},
    };
    struct wf_model *m = easy();
    for (size_t i = 0; i < COUNT_OF(rows); i++) {
        struct wf_solver_options o = plain();
        struct wf_solution s;
        o.relax = rows[i].relax;
        o.cutoff = rows[i].cutoff;
        assert_int_equal(wf_solver_run(m, &o, &s, NULL), WF_OK);
        assert_int_equal(s.outcome, rows[i].found ? WF_OUTCOME_OPTIMAL : WF_OUTCOME_INFEASIBLE);
        assert_true((s.x != NULL) == rows[i].found);
        assert_true(s.bound <= -13 + 1e-6); /* true in any case */
        if (rows[i].found)
            assert_close(s.value, -13, 1e-9);
        else
            assert_true(s.bound >= o.cutoff - 1e-4);
        wf_solution_clear(&s);
    }
    wf_model_free(m);
}

struct told {
    int count;
    double value, bound;
};

static void note(void *data, double value, double bound)
{
    struct told *t = data;
    if (t->count > 0) {
        assert_true(bound >= t->bound - 1e-9);
        assert_true(isnan(t->value) || value <= t->value + 1e-9);
    }
    assert_true(isnan(value) || bound <= value);
    *t = (struct told){t->count + 1, value, bound};
}

static void progress_is_told_and_true(void **state)
{
    (void)state;
    struct wf_model *m = hard(3, true);
    struct wf_solver_options o = plain();
    struct told told = {0};
    struct wf_solution s;
    wf_model_set_offset(m, 1000); /* told in the model's own units */
    o.progress = note;
    o.progress_data = &told;
    o.seconds = 2;
    assert_int_equal(wf_solver_run(m, &o, &s, NULL), WF_OK);
    assert_true(told.count > 0);
    assert_close(told.value, s.value, 1e-6 * s.value);
    assert_true(told.bound >= 1000 - 1e-6);
    assert_true(told.bound <= s.bound + 1e-6);
    wf_solution_clear(&s);
    wf_model_free(m);
}

/* ---- Manners --------------------------------------------------------------------------------- */

/* GLPK prints from scaling and cuts whatever its message level is. */
static void nothing_is_printed(void **state)
{
    (void)state;
    char name[] = "/tmp/wf_solver_XXXXXX";
    int file = mkstemp(name), out = dup(1), err = dup(2);
    assert_true(file >= 0 && out >= 0 && err >= 0);
    fflush(NULL);
    dup2(file, 1);
    dup2(file, 2);
    for (int relax = 0; relax < 2; relax++) {
        struct wf_model *m = hard(2, true);
        struct wf_solver_options o = plain();
        struct wf_solution s = {0};
        o.relax = relax;
        if (wf_solver_run(m, &o, &s, NULL) == WF_OK)
            wf_solution_clear(&s);
        wf_model_free(m);
    }
    fflush(NULL);
    dup2(out, 1);
    dup2(err, 2);
    off_t size = lseek(file, 0, SEEK_END);
    close(file);
    close(out);
    close(err);
    unlink(name);
    assert_int_equal(size, 0);
}

static void no_memory_is_told(void **state)
{
    (void)state;
    struct wf_model *(*const makes[])(void) = {easy, unbounded_empty, split_slack};
    for (size_t i = 0; i < COUNT_OF(makes); i++) {
        struct wf_model *m = makes[i]();
        enum wf_status status = WF_MEMORY;
        long n = 0;
        for (; status == WF_MEMORY; n++) {
            struct wf_solver_options o = plain();
            struct wf_solution s;
            struct wf_error e = {0};
            o.gap = 1;
            wf_alloc_fail_at(n);
            status = wf_solver_run(m, &o, &s, &e);
            wf_alloc_fail_at(-1);
            assert_int_equal(e.status, status);
            assert_true(status == WF_OK || s.x == NULL);
            wf_solution_clear(&s);
        }
        assert_int_equal(status, WF_OK);
        assert_true(n > 15);
        wf_model_free(m);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(the_easy_one_is_solved),
        cmocka_unit_test(big_m_does_not_fool),
        cmocka_unit_test(wide_integers_end),
        cmocka_unit_test(nan_is_refused),
        cmocka_unit_test(time_is_kept_and_the_bound_is_true),
        cmocka_unit_test(only_better_than_the_cutoff),
        cmocka_unit_test(progress_is_told_and_true),
        cmocka_unit_test(nothing_is_printed),
        cmocka_unit_test(no_memory_is_told),
    };
    return cmocka_run_group_tests_name("solver", tests, NULL, NULL) != 0;
}
