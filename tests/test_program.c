/* What points and duals prove about a linear program: known proofs, and many random ones. */
#include "support/test.h"

#include "solve/program.h"
#include "support/dice.h"

/* The radiation therapy of published/lp: optimum 5.25 with duals -0.5, 1.1, 0. */
static struct wf_model *radiation(void)
{
    static const double a[3][2] = {{.3, .1}, {.5, .5}, {.6, .4}};
    static const double low[] = {-HUGE_VAL, 6, 6}, high[] = {2.7, 6, HUGE_VAL};
    struct wf_model *m = wf_model_new();
    wf_model_column(m, 0, HUGE_VAL, .4, false, "beam1");
    wf_model_column(m, 0, HUGE_VAL, .5, false, "beam2");
    for (int i = 0; i < 3; i++) {
        wf_model_row(m, low[i], high[i], "row");
        for (int j = 0; j < 2; j++)
            wf_model_term(m, i, j, a[i][j]);
    }
    return m;
}

static struct claim {
    const char *name;
    double dual[3], bound;
} claims[] = {
    {"the published duals prove the optimum", {-.5, 1.1, 0}, 5.25},
    {"no duals prove that costs are not negative", {0, 0, 0}, 0},
    {"other duals prove less", {-.4, 1, 0}, 4.92},
    {"a dual of the wrong sign proves nothing and counts as 0", {1, 0, 0}, 0},
    {"likewise at the other side", {0, 0, -1}, 0},
    {"a negative reduced cost at an infinite bound proves nothing", {0, 2, 0}, -HUGE_VAL},
};

static void one_claim(void **state)
{
    struct claim *c = *state;
    struct wf_program p;
    double dual[3], reduced[2];
    struct wf_model *m = radiation();
    assert_true(wf_program_init(&p, m));
    memcpy(dual, c->dual, sizeof dual);
    double bound = wf_program_bound(&p, dual, reduced);
    if (isinf(c->bound)) {
        assert_true(bound == c->bound);
    } else {
        assert_close(bound, c->bound, 1e-12);
        assert_close(reduced[0], .4 - .3 * dual[0] - .5 * dual[1] - .6 * dual[2], 1e-12);
        assert_close(reduced[1], .5 - .1 * dual[0] - .5 * dual[1] - .4 * dual[2], 1e-12);
    }
    wf_program_clear(&p);
    wf_model_free(m);
}

static void offset_and_bounds_count(void **state)
{
    (void)state;
    struct wf_program p;
    double dual[1] = {2}, reduced[2];
    struct wf_model *m = wf_model_new();
    wf_model_column(m, -1, 4, 1, false, "a");
    wf_model_column(m, 3, 3, 5, false, "b");
    wf_model_row(m, 2, 6, "r");
    wf_model_term(m, 0, 0, 1);
    wf_model_term(m, 0, 1, 1);
    wf_model_set_offset(m, 100);
    assert_true(wf_program_init(&p, m));
    /* 100 + 2 * 2 + (1 - 2) * 4 + (5 - 2) * 3 */
    assert_close(wf_program_bound(&p, dual, reduced), 109, 1e-12);
    dual[0] = -1; /* 100 - 1 * 6 + (1 + 1) * -1 + (5 + 1) * 3 */
    assert_close(wf_program_bound(&p, dual, reduced), 110, 1e-12);
    wf_program_clear(&p);
    wf_model_free(m);
}

static void farkas(void **state)
{
    (void)state;
    struct wf_program p;
    double scratch[2];
    struct wf_model *m = wf_model_new();
    wf_model_column(m, 0, HUGE_VAL, 1, false, "x");
    wf_model_column(m, 0, HUGE_VAL, 1, false, "y");
    for (int i = 0; i < 2; i++) { /* x + y <= 1 and x + y >= 2 */
        wf_model_row(m, i == 0 ? -HUGE_VAL : 2, i == 0 ? 1 : HUGE_VAL, "r");
        wf_model_term(m, i, 0, 1);
        wf_model_term(m, i, 1, 1);
    }
    assert_true(wf_program_init(&p, m));
    double proof[] = {-3, 3}, half[] = {-1, 0}, wrong[] = {1, -1}, nothing[] = {0, 0};
    assert_true(wf_program_refuted(&p, proof, scratch));
    assert_false(wf_program_refuted(&p, half, scratch));
    assert_false(wf_program_refuted(&p, wrong, scratch));
    assert_false(wf_program_refuted(&p, nothing, scratch));
    p.row_low[1] = 1; /* touching: x + y = 1 is a point */
    double touching[] = {-3, 3};
    assert_false(wf_program_refuted(&p, touching, scratch));
    wf_program_clear(&p);
    wf_model_free(m);
}

/* ---- Random programs that have a point ------------------------------------------------------- */

#define ROWS    6
#define COLUMNS 5

/* Rows and bounds around the point x. */
static struct wf_model *with_point(struct dice *d, double *x)
{
    struct wf_model *m = wf_model_new();
    for (int j = 0; j < COLUMNS; j++) {
        x[j] = dice_decimal(d, -30, 30, 10);
        double below = dice_chance(d, 20) ? HUGE_VAL : dice_decimal(d, 0, 20, 10);
        double above = dice_chance(d, 20) ? HUGE_VAL : dice_decimal(d, 0, 20, 10);
        wf_model_column(m, x[j] - below, x[j] + above, dice_decimal(d, -9, 9, 1), false, "c");
    }
    for (int i = 0; i < ROWS; i++) {
        int row = wf_model_row(m, 0, 0, "r");
        for (int j = 0; j < COLUMNS; j++)
            if (dice_chance(d, 60))
                wf_model_term(m, row, j, dice_decimal(d, -9, 9, 1));
        double sum = wf_model_row_value(m, row, x);
        wf_model_set_row(m, row, dice_chance(d, 40) ? -HUGE_VAL : sum - dice_decimal(d, 0, 9, 1),
                         dice_chance(d, 40) ? HUGE_VAL : sum + dice_decimal(d, 0, 9, 1));
    }
    return m;
}

/* Whatever the duals are, they prove no more than what is true. */
static void no_duals_prove_too_much(void **state)
{
    (void)state;
    struct dice d = {1};
    int useful = 0;
    for (int n = 0; n < 2000; n++) {
        struct wf_program p;
        double x[COLUMNS], dual[ROWS], reduced[COLUMNS];
        struct wf_model *m = with_point(&d, x);
        assert_true(wf_program_init(&p, m));
        for (int k = 0; k < 5; k++) {
            for (int i = 0; i < ROWS; i++)
                dual[i] = dice_chance(&d, 50) ? 0 : dice_decimal(&d, -40, 40, 10);
            double bound = wf_program_bound(&p, dual, reduced);
            assert_true(bound <= wf_model_value(m, x) + 1e-9);
            useful += isfinite(bound);
            assert_false(wf_program_refuted(&p, dual, reduced));
        }
        wf_program_clear(&p);
        wf_model_free(m);
    }
    assert_in_range(useful, 1000, 10000);
}

static void violation_is_the_model_s(void **state)
{
    (void)state;
    struct dice d = {2};
    for (int n = 0; n < 2000; n++) {
        struct wf_program p;
        double x[COLUMNS];
        struct wf_model *m = with_point(&d, x);
        assert_true(wf_program_init(&p, m));
        assert_close(wf_program_violation(&p, x), 0, 1e-12);
        for (int j = 0; j < COLUMNS; j++)
            x[j] += dice_decimal(&d, -20, 20, 10);
        assert_close(wf_program_violation(&p, x), wf_model_violation_relaxed(m, x, NULL), 1e-12);
        x[0] = nan("");
        assert_true(wf_program_violation(&p, x) == HUGE_VAL);
        wf_program_clear(&p);
        wf_model_free(m);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(offset_and_bounds_count),
        cmocka_unit_test(farkas),
        cmocka_unit_test(no_duals_prove_too_much),
        cmocka_unit_test(violation_is_the_model_s),
    };
    struct CMUnitTest each[COUNT_OF(claims)];
    for (size_t i = 0; i < COUNT_OF(claims); i++)
        each[i] = (struct CMUnitTest){
            .name = claims[i].name, .test_func = one_claim, .initial_state = &claims[i]};
    int failed = cmocka_run_group_tests_name("program", tests, NULL, NULL);
    failed += _cmocka_run_group_tests("program, duals", each, COUNT_OF(each), NULL, NULL);
    return failed != 0;
}
