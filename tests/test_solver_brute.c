/* The solver against complete enumeration on hundreds of tiny models: every whole point is tried,
 * and for each the one continuous column is placed by hand. */
#include "support/test.h"

#include "solve/solver.h"
#include "support/dice.h"

#define WHOLE  4
#define ROWS   4
#define MODELS 400
#define SLACK  1e-9 /* rows are of small decimals: rounding alone */

struct tiny {
    int whole; /* columns 0 .. whole - 1 */
    int low[WHOLE], high[WHOLE];
    double z_low, z_high; /* of the continuous column, the last */
    double cost[WHOLE + 1], a[ROWS][WHOLE + 1], row_low[ROWS], row_high[ROWS];
};

static void roll_row(struct dice *d, struct tiny *t, int row)
{
    for (int j = 0; j <= t->whole; j++)
        t->a[row][j] = dice_chance(d, 75) ? dice_decimal(d, -9, 9, dice_chance(d, 50) ? 1 : 10) : 0;
    double middle = dice_decimal(d, -80, 80, 10);
    bool equal = dice_chance(d, 15);
    t->row_low[row] = dice_chance(d, 40) ? -HUGE_VAL : middle - dice_decimal(d, 0, 60, 10);
    t->row_high[row] = dice_chance(d, 40) ? HUGE_VAL : middle + dice_decimal(d, 0, 60, 10);
    if (equal)
        t->row_low[row] = t->row_high[row] = middle;
}

static struct tiny roll(struct dice *d)
{
    struct tiny t = {.whole = (int)dice_whole(d, 2, WHOLE)};
    for (int j = 0; j < t.whole; j++) {
        t.low[j] = (int)dice_whole(d, -2, 1);
        t.high[j] = t.low[j] + (int)dice_whole(d, 0, 5);
    }
    t.z_low = dice_decimal(d, -30, 0, 10);
    t.z_high = t.z_low + (dice_chance(d, 30) ? 0 : dice_decimal(d, 0, 50, 10));
    for (int j = 0; j <= t.whole; j++)
        t.cost[j] = dice_decimal(d, -20, 20, 10);
    for (int i = 0; i < ROWS; i++)
        roll_row(d, &t, i);
    return t;
}

static struct wf_model *model_of(const struct tiny *t)
{
    struct wf_model *m = wf_model_new();
    for (int j = 0; j < t->whole; j++)
        wf_model_column(m, t->low[j], t->high[j], t->cost[j], true, "n");
    wf_model_column(m, t->z_low, t->z_high, t->cost[t->whole], false, "z");
    for (int i = 0; i < ROWS; i++) {
        wf_model_row(m, t->row_low[i], t->row_high[i], "r");
        for (int j = 0; j <= t->whole; j++)
            wf_model_term(m, i, j, t->a[i][j]);
    }
    return m;
}

/* The least value with the whole columns as they are; infinite where the rows leave z no room. */
static double least_with(const struct tiny *t, const int *n)
{
    double low = t->z_low, high = t->z_high, value = 0;
    for (int i = 0; i < ROWS; i++) {
        double sum = 0, a = t->a[i][t->whole];
        for (int j = 0; j < t->whole; j++)
            sum += t->a[i][j] * n[j];
        double from = t->row_low[i] - sum, to = t->row_high[i] - sum;
        if (a == 0 && (from > SLACK || to < -SLACK))
            return HUGE_VAL;
        if (a != 0) {
            low = fmax(low, a > 0 ? from / a : to / a);
            high = fmin(high, a > 0 ? to / a : from / a);
        }
    }
    if (low > high + SLACK)
        return HUGE_VAL;
    for (int j = 0; j < t->whole; j++)
        value += t->cost[j] * n[j];
    return value + t->cost[t->whole] * (t->cost[t->whole] > 0 ? low : fmax(low, high));
}

static double least(const struct tiny *t)
{
    int n[WHOLE];
    double best = HUGE_VAL;
    for (int j = 0; j < t->whole; j++)
        n[j] = t->low[j];
    for (int j = 0; j < t->whole;) {
        best = fmin(best, least_with(t, n));
        for (j = 0; j < t->whole && n[j] == t->high[j]; j++)
            n[j] = t->low[j];
        if (j < t->whole)
            n[j]++;
        else
            break;
        j = 0;
    }
    return best;
}

static void every_tiny_model_agrees(void **state)
{
    (void)state;
    struct dice d = {21};
    int found = 0, empty = 0;
    for (int k = 0; k < MODELS; k++) {
        struct tiny t = roll(&d);
        struct wf_model *m = model_of(&t);
        struct wf_solver_options o = {.cutoff = nan("")};
        struct wf_solution s;
        double want = least(&t);
        assert_int_equal(wf_solver_run(m, &o, &s, NULL), WF_OK);
        assert_int_equal(s.outcome, isinf(want) ? WF_OUTCOME_INFEASIBLE : WF_OUTCOME_OPTIMAL);
        if (isfinite(want)) {
            assert_close(s.value, want, 1e-6 * fmax(1, fabs(want)));
            assert_true(s.bound <= want + 1e-9);
            assert_true(wf_model_violation(m, s.x, NULL) <= WF_SOLVER_TOLERANCE);
            found++;
        } else {
            assert_true(s.bound == HUGE_VAL);
            empty++;
        }
        wf_solution_clear(&s);
        wf_model_free(m);
    }
    assert_in_range(found, MODELS / 8, MODELS); /* both kinds are tried */
    assert_in_range(empty, MODELS / 8, MODELS);
}

/* The same by cutoffs around the truth. */
static void cutoffs_agree(void **state)
{
    (void)state;
    struct dice d = {22};
    int better = 0, none = 0;
    for (int k = 0; k < MODELS; k++) {
        struct tiny t = roll(&d);
        struct wf_model *m = model_of(&t);
        double want = least(&t);
        struct wf_solver_options o = {.cutoff =
                                          (isinf(want) ? 0 : want) + dice_decimal(&d, -9, 9, 10)};
        struct wf_solution s;
        assert_int_equal(wf_solver_run(m, &o, &s, NULL), WF_OK);
        if (want < o.cutoff - 1e-3) {
            assert_int_equal(s.outcome, WF_OUTCOME_OPTIMAL);
            assert_close(s.value, want, 1e-6 * fmax(1, fabs(want)));
            better++;
        } else {
            assert_int_equal(s.outcome, WF_OUTCOME_INFEASIBLE);
            assert_null(s.x);
            assert_true(s.bound <= want + 1e-6);
            assert_true(s.bound >= o.cutoff - 1e-3);
            none++;
        }
        wf_solution_clear(&s);
        wf_model_free(m);
    }
    assert_in_range(better, MODELS / 16, MODELS);
    assert_in_range(none, MODELS / 8, MODELS);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(every_tiny_model_agrees),
        cmocka_unit_test(cutoffs_agree),
    };
    return cmocka_run_group_tests_name("solver against enumeration", tests, NULL, NULL) != 0;
}
