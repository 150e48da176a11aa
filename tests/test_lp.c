/* Linear programs kept open: warm solves give what cold ones give, and misuse is told. */
#include "support/test.h"

#include "base/alloc.h"
#include "solve/solver.h"
#include "support/dice.h"

#define COLUMNS 13 /* the last is always 0 */
#define ROWS    14
#define SHARES  8 /* from this row on two terms: the engine is told of it once it is missed */

/* One column at most a part of another. */
static void add_share(struct dice *d, struct wf_model *m, int row)
{
    int from = (int)dice_whole(d, 0, COLUMNS - 2), more = (int)dice_whole(d, 1, COLUMNS - 2);
    wf_model_row(m, -HUGE_VAL, dice_decimal(d, 0, 9, 10), "share");
    wf_model_term(m, row, from, dice_decimal(d, 5, 20, 10));
    wf_model_term(m, row, (from + more) % (COLUMNS - 1), -dice_decimal(d, 1, 9, 10));
}

/* The same program with three terms in each of these rows, so that none waits. */
static struct wf_model *without_waiting(const struct wf_model *m)
{
    struct wf_model *copy = wf_model_copy(m);
    assert_non_null(copy);
    for (int i = SHARES; i < ROWS; i++)
        wf_model_term(copy, i, COLUMNS - 1, 1);
    return copy;
}

/* A blend: a total in a band, rows of shares, all columns bounded. */
static struct wf_model *blend(struct dice *d)
{
    struct wf_model *m = wf_model_new();
    for (int j = 0; j < COLUMNS - 1; j++)
        wf_model_column(m, 0, dice_decimal(d, 2, 20, 1), dice_decimal(d, 1, 99, 10), false, "c");
    wf_model_column(m, 0, 0, 0, false, "0");
    for (int i = 0; i < SHARES; i++) {
        double low = i == 0 ? 20 : i % 2 ? -HUGE_VAL : -dice_decimal(d, 0, 9, 1);
        double high = i == 0 ? 30 : i % 2 ? dice_decimal(d, 0, 9, 1) : HUGE_VAL;
        wf_model_row(m, low, high, "r");
        for (int j = 0; j < COLUMNS - 1; j++)
            wf_model_term(m, i, j,
                          i == 0 ? dice_decimal(d, 5, 9, 10) : dice_decimal(d, -50, 50, 100));
    }
    for (int i = SHARES; i < ROWS; i++)
        add_share(d, m, i);
    return m;
}

/* New coefficients for some of the row's terms, in both; now and then 0. */
static void change_terms(struct dice *d, struct wf_model *m, struct wf_lp *lp, int row)
{
    int columns[COLUMNS], count;
    double values[COLUMNS], dense[COLUMNS] = {0};
    count = wf_model_row_terms(m, row, columns, values);
    for (int k = 0; k < count; k++) {
        double to = dice_chance(d, 10)   ? 0
                    : dice_chance(d, 50) ? dice_decimal(d, -50, 50, 100)
                                         : values[k];
        dense[columns[k]] = to;
        wf_model_term(m, row, columns[k], to - values[k]);
    }
    assert_int_equal(wf_lp_terms(lp, row, dense, NULL), WF_OK);
}

/* Changes something in both. */
static void change(struct dice *d, struct wf_model *m, struct wf_lp *lp)
{
    int column = (int)dice_whole(d, 0, COLUMNS - 2), row = (int)dice_whole(d, 1, ROWS - 1);
    long what = dice_whole(d, 1, 13);
    if (what > 10) {
        change_terms(d, m, lp, row);
    } else if (what <= 6) {
        double low = dice_decimal(d, 0, 6, 1), high = low + dice_decimal(d, 0, 8, 1);
        wf_model_set_bounds(m, column, low, high);
        wf_lp_bounds(lp, column, low, high);
    } else if (what <= 8) {
        double low = dice_chance(d, 30) ? -HUGE_VAL : -dice_decimal(d, 0, 90, 10);
        double high = dice_chance(d, 30) ? HUGE_VAL : dice_decimal(d, 0, 90, 10);
        wf_model_set_row(m, row, low, high);
        wf_lp_row(lp, row, low, high);
    } else {
        double cost = dice_decimal(d, -20, 99, 10);
        wf_model_set_cost(m, column, cost);
        wf_lp_cost(lp, column, cost);
    }
}

static struct wf_lp *opened(const struct wf_model *m)
{
    struct wf_lp *lp = NULL;
    assert_int_equal(wf_lp_open(m, &lp, NULL), WF_OK);
    assert_non_null(lp);
    return lp;
}

/* The answer's own numbers prove it. */
static void check_proof(const struct wf_model *m, const struct wf_lp_answer *a)
{
    assert_true(wf_model_violation_relaxed(m, a->x, NULL) <= WF_SOLVER_TOLERANCE);
    assert_close(wf_model_value(m, a->x), a->value, 1e-6 * fmax(1, fabs(a->value)));
    for (int j = 0; j < COLUMNS; j++) {
        double reduced = wf_model_cost(m, j);
        for (int i = 0; i < ROWS; i++) {
            int columns[COLUMNS], count;
            double values[COLUMNS];
            count = wf_model_row_terms(m, i, columns, values);
            for (int k = 0; k < count; k++)
                reduced -= columns[k] == j ? a->dual[i] * values[k] : 0;
        }
        assert_close(a->reduced[j], reduced, 1e-9);
        if (a->x[j] > wf_model_low(m, j) + 1e-6)
            assert_true(reduced <= 1e-6);
        if (a->x[j] < wf_model_high(m, j) - 1e-6)
            assert_true(reduced >= -1e-6);
    }
}

static void warm_is_as_cold(void **state)
{
    (void)state;
    struct dice d = {3};
    int count[WF_OUTCOME_COUNT] = {0};
    for (int n = 0; n < 40; n++) {
        struct wf_model *m = blend(&d);
        struct wf_lp *lp = opened(m);
        double x[COLUMNS], dual[ROWS], reduced[COLUMNS];
        struct wf_lp_answer a = {.x = x, .dual = dual, .reduced = reduced};
        for (int k = 0; k < 50; k++) {
            struct wf_solver_options o = {.relax = true, .cutoff = nan("")};
            struct wf_solution cold;
            struct wf_model *plain = without_waiting(m);
            assert_int_equal(wf_lp_solve(lp, HUGE_VAL, &a, NULL), WF_OK);
            assert_int_equal(wf_solver_run(plain, &o, &cold, NULL), WF_OK);
            wf_model_free(plain);
            assert_int_equal(a.outcome, cold.outcome);
            count[a.outcome]++;
            if (a.outcome == WF_OUTCOME_OPTIMAL) {
                assert_close(a.value, cold.value, 1e-8 * fmax(1, fabs(cold.value)));
                check_proof(m, &a);
            } else {
                assert_true(a.value == HUGE_VAL);
            }
            wf_solution_clear(&cold);
            change(&d, m, lp);
        }
        wf_lp_close(lp);
        wf_model_free(m);
    }
    assert_in_range(count[WF_OUTCOME_OPTIMAL], 300, 1900); /* of 2000, so that both are tried */
    assert_in_range(count[WF_OUTCOME_INFEASIBLE], 100, 1700);
}

static void the_cutoff_stops(void **state)
{
    (void)state;
    struct dice d = {4};
    int stopped = 0;
    for (int n = 0; n < 100; n++) {
        struct wf_model *m = blend(&d);
        struct wf_lp *lp = opened(m);
        struct wf_lp_answer a = {0}, b = {0};
        for (int k = 0; k < 20; k++) {
            assert_int_equal(wf_lp_solve(lp, HUGE_VAL, &a, NULL), WF_OK);
            if (a.outcome == WF_OUTCOME_OPTIMAL) {
                change(&d, m, lp); /* so that there is something to do */
                assert_int_equal(wf_lp_solve(lp, HUGE_VAL, &a, NULL), WF_OK);
            }
            change(&d, m, lp);
            struct wf_lp *other = opened(m);
            assert_int_equal(wf_lp_solve(other, HUGE_VAL, &a, NULL), WF_OK);
            double cutoff = a.value + dice_decimal(&d, -100, 100, 10);
            assert_int_equal(wf_lp_solve(lp, isfinite(cutoff) ? cutoff : 50, &b, NULL), WF_OK);
            if (a.outcome == WF_OUTCOME_OPTIMAL && a.value < cutoff - 1e-6) {
                assert_int_equal(b.outcome, WF_OUTCOME_OPTIMAL);
                assert_close(b.value, a.value, 1e-8 * fmax(1, fabs(a.value)));
            } else if (a.outcome == WF_OUTCOME_OPTIMAL && a.value > cutoff + 1e-6) {
                assert_int_equal(b.outcome, WF_OUTCOME_INFEASIBLE);
                assert_true(b.value >= cutoff);                                  /* proved ... */
                assert_true(b.value <= a.value + 1e-6 * fmax(1, fabs(a.value))); /* ... and true */
                stopped++;
            } else if (a.outcome == WF_OUTCOME_INFEASIBLE) {
                assert_int_equal(b.outcome, WF_OUTCOME_INFEASIBLE);
            }
            wf_lp_close(other);
        }
        wf_lp_close(lp);
        wf_model_free(m);
    }
    assert_in_range(stopped, 200, 2000);
}

static void unbounded_is_told(void **state)
{
    (void)state;
    struct wf_model *m = wf_model_new();
    struct wf_lp_answer a = {0};
    wf_model_column(m, 0, HUGE_VAL, -1, false, "x");
    wf_model_column(m, 0, HUGE_VAL, 0, false, "y");
    wf_model_row(m, -HUGE_VAL, 1, "r");
    wf_model_term(m, 0, 0, 1);
    wf_model_term(m, 0, 1, -1);
    struct wf_lp *lp = opened(m);
    assert_int_equal(wf_lp_solve(lp, HUGE_VAL, &a, NULL), WF_OK);
    assert_int_equal(a.outcome, WF_OUTCOME_UNBOUNDED);
    assert_true(a.value == -HUGE_VAL);
    wf_lp_bounds(lp, 1, 0, 4); /* and cured */
    assert_int_equal(wf_lp_solve(lp, HUGE_VAL, &a, NULL), WF_OK);
    assert_int_equal(a.outcome, WF_OUTCOME_OPTIMAL);
    assert_close(a.value, -5, 1e-9);
    wf_lp_close(lp);
    wf_model_free(m);
}

static void the_limit_stops(void **state)
{
    (void)state;
    struct dice d = {6};
    struct wf_model *m = blend(&d);
    struct wf_lp *lp = opened(m);
    struct wf_lp_answer a = {0};
    wf_lp_limit(lp, 1e-9);
    assert_int_equal(wf_lp_solve(lp, HUGE_VAL, &a, NULL), WF_OK);
    assert_int_equal(a.outcome, WF_OUTCOME_UNKNOWN);
    assert_true(a.value == -HUGE_VAL);
    wf_lp_limit(lp, 0);
    assert_int_equal(wf_lp_solve(lp, HUGE_VAL, &a, NULL), WF_OK);
    assert_int_equal(a.outcome, WF_OUTCOME_OPTIMAL);
    wf_lp_close(lp);
    wf_model_free(m);
}

static void nothing_is_allocated_between(void **state)
{
    (void)state;
    struct dice d = {6};
    struct wf_model *m = blend(&d);
    struct wf_lp *lp = opened(m);
    struct wf_lp_answer a = {0};
    wf_alloc_fail_at(0);
    for (int k = 0; k < 50; k++) {
        assert_int_equal(wf_lp_solve(lp, HUGE_VAL, &a, NULL), WF_OK);
        change(&d, m, lp);
    }
    assert_int_equal(wf_alloc_count(), 0);
    wf_alloc_fail_at(-1);
    wf_lp_close(lp);
    wf_model_free(m);
}

static void opening_survives_no_memory(void **state)
{
    (void)state;
    struct dice d = {7};
    struct wf_model *m = blend(&d);
    struct wf_lp *lp = NULL;
    enum wf_status s = WF_MEMORY;
    long n = 0;
    for (; s == WF_MEMORY; n++) {
        struct wf_error e = {0};
        wf_alloc_fail_at(n);
        s = wf_lp_open(m, &lp, &e);
        wf_alloc_fail_at(-1);
        assert_int_equal(e.status, s);
        assert_true((lp != NULL) == (s == WF_OK));
    }
    assert_int_equal(s, WF_OK);
    assert_true(n > 10);
    wf_lp_close(lp);
    wf_lp_close(NULL);
    wf_model_free(m);
}

/* ---- Misuse ---------------------------------------------------------------------------------- */

static void bad_column(struct wf_lp *lp)
{
    wf_lp_bounds(lp, COLUMNS, 0, 1);
}

static void bad_row(struct wf_lp *lp)
{
    wf_lp_row(lp, -1, 0, 1);
}

static void bad_cost_column(struct wf_lp *lp)
{
    wf_lp_cost(lp, COLUMNS, 0);
}

static void crossed(struct wf_lp *lp)
{
    wf_lp_bounds(lp, 0, 2, 1);
}

static void nan_bound(struct wf_lp *lp)
{
    wf_lp_bounds(lp, 0, nan(""), 1);
}

static void at_infinity(struct wf_lp *lp)
{
    wf_lp_row(lp, 0, HUGE_VAL, HUGE_VAL);
}

static void nan_cost(struct wf_lp *lp)
{
    wf_lp_cost(lp, 0, nan(""));
}

static void infinite_cost(struct wf_lp *lp)
{
    wf_lp_cost(lp, 0, -HUGE_VAL);
}

static void misuse_is_told_by_the_next_solve(void **state)
{
    (void)state;
    static void (*const misuse[])(struct wf_lp *) = {bad_column, bad_row,      bad_cost_column,
                                                     crossed,    nan_bound,    at_infinity,
                                                     nan_cost,   infinite_cost};
    struct dice d = {8};
    struct wf_model *m = blend(&d);
    for (size_t i = 0; i < COUNT_OF(misuse); i++) {
        struct wf_lp *lp = opened(m);
        struct wf_lp_answer a = {0};
        struct wf_error e = {0};
        misuse[i](lp);
        assert_int_equal(wf_lp_solve(lp, HUGE_VAL, &a, &e), WF_INTERNAL);
        assert_non_null(strstr(e.text, "a change of the linear program"));
        wf_lp_close(lp);
    }
    wf_model_free(m);
}

static void a_bad_model_is_not_opened(void **state)
{
    (void)state;
    struct wf_lp *lp = NULL;
    struct wf_model *m = wf_model_new();
    assert_int_equal(wf_lp_open(m, &lp, NULL), WF_INTERNAL);
    assert_null(lp);
    wf_model_free(m);
}

/* ---- Several at once ------------------------------------------------------------------------- */

static void several_do_not_disturb_each_other(void **state)
{
    (void)state;
    enum { MANY = 5 };
    struct dice d = {9};
    struct wf_model *m[MANY];
    struct wf_lp *lp[MANY];
    double alone[MANY];
    struct wf_lp_answer a = {0};
    for (int i = 0; i < MANY; i++) {
        m[i] = blend(&d);
        lp[i] = opened(m[i]);
        assert_int_equal(wf_lp_solve(lp[i], HUGE_VAL, &a, NULL), WF_OK);
        alone[i] = a.value;
    }
    for (int i = 0; i < MANY; i++) { /* closed in another order */
        int k = (2 * i + 1) % MANY;
        struct wf_solver_options o = {.relax = true, .cutoff = nan("")};
        struct wf_solution s;
        assert_int_equal(wf_solver_run(m[k], &o, &s, NULL), WF_OK);
        assert_int_equal(wf_lp_solve(lp[k], HUGE_VAL, &a, NULL), WF_OK);
        assert_close(a.value, alone[k], 1e-9 * fmax(1, fabs(alone[k])));
        assert_close(s.value, alone[k], 1e-8 * fmax(1, fabs(alone[k])));
        wf_solution_clear(&s);
        wf_lp_close(lp[k]);
        wf_model_free(m[k]);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(warm_is_as_cold),
        cmocka_unit_test(the_cutoff_stops),
        cmocka_unit_test(unbounded_is_told),
        cmocka_unit_test(the_limit_stops),
        cmocka_unit_test(nothing_is_allocated_between),
        cmocka_unit_test(opening_survives_no_memory),
        cmocka_unit_test(misuse_is_told_by_the_next_solve),
        cmocka_unit_test(a_bad_model_is_not_opened),
        cmocka_unit_test(several_do_not_disturb_each_other),
    };
    return cmocka_run_group_tests_name("lp", tests, NULL, NULL) != 0;
}
