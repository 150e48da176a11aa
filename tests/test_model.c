/* The model: building, merging, copying, and what a point is worth. */
#include "support/test.h"

#include "base/alloc.h"
#include "model/model.h"

/* min 3 x + y + 10, 1 <= x + 2 y <= 5, y <= 0.5 x; x free of 0..4, y whole 0..3 */
static struct wf_model *small_model(void)
{
    struct wf_model *m = wf_model_new();
    assert_non_null(m);
    int x = wf_model_column(m, 0, 4, 3, false, "x"), y = wf_model_column(m, 0, 3, 1, true, "y");
    int sum = wf_model_row(m, 1, 5, "sum"), link = wf_model_row(m, -HUGE_VAL, 0, "link");
    wf_model_term(m, sum, y, 2);
    wf_model_term(m, sum, x, 1);
    wf_model_term(m, link, x, -0.5);
    wf_model_term(m, link, y, 1);
    wf_model_set_offset(m, 10);
    return m;
}

/* ---- Building -------------------------------------------------------------------------------- */

static void columns_and_rows_count_from_0(void **state)
{
    (void)state;
    struct wf_model *m = small_model();
    assert_int_equal(wf_model_columns(m), 2);
    assert_int_equal(wf_model_rows(m), 2);
    assert_int_equal(wf_model_terms(m), 4);
    assert_string_equal(wf_model_column_label(m, 1), "y");
    assert_string_equal(wf_model_row_label(m, 1), "link");
    assert_true(wf_model_integer(m, 1) && !wf_model_integer(m, 0));
    assert_close(wf_model_high(m, 0), 4, 0);
    assert_close(wf_model_row_low(m, 0), 1, 0);
    assert_true(wf_model_row_low(m, 1) == -HUGE_VAL);
    assert_close(wf_model_cost(m, 0), 3, 0);
    assert_close(wf_model_offset(m), 10, 0);
    wf_model_free(m);
}

static void labels_are_copied(void **state)
{
    (void)state;
    char label[] = "malt";
    struct wf_model *m = wf_model_new();
    wf_model_column(m, 0, 1, 0, false, label);
    wf_model_column(m, 0, 1, 0, false, NULL);
    label[0] = 's';
    assert_string_equal(wf_model_column_label(m, 0), "malt");
    assert_string_equal(wf_model_column_label(m, 1), "");
    wf_model_free(m);
}

static void terms_add_up_in_order_of_column(void **state)
{
    (void)state;
    struct wf_model *m = wf_model_new();
    int columns[4], order[] = {2, 0, 3, 1, 2, 0};
    double values[4];
    for (int j = 0; j < 4; j++)
        wf_model_column(m, 0, 1, 0, false, "c");
    int row = wf_model_row(m, 0, 1, "r");
    for (size_t k = 0; k < COUNT_OF(order); k++)
        wf_model_term(m, row, order[k], (double)(k + 1));
    wf_model_term(m, row, 3, -3);           /* leaves 0 */
    wf_model_term(m, row, 1, -4 + 0.9e-12); /* leaves less than counts */
    assert_int_equal(wf_model_row_terms(m, row, columns, values), 2);
    assert_int_equal(columns[0], 0);
    assert_close(values[0], 2 + 6, 0);
    assert_int_equal(columns[1], 2);
    assert_close(values[1], 1 + 5, 0);
    assert_int_equal(wf_model_terms(m), 2);
    wf_model_term(m, row, 3, 0.25); /* and comes back */
    assert_int_equal(wf_model_row_terms(m, row, columns, values), 3);
    wf_model_free(m);
}

/* Against a full table, with terms in random order. */
static void many_terms_are_all_kept(void **state)
{
    (void)state;
    enum { SIDE = 60 };
    static double table[SIDE][SIDE];
    struct wf_model *m = wf_model_new();
    unsigned seed = 1;
    for (int j = 0; j < SIDE; j++) {
        wf_model_column(m, 0, 1, 0, false, "c");
        wf_model_row(m, 0, 1, "r");
    }
    for (int k = 0; k < 3 * SIDE * SIDE; k++) {
        seed = seed * 1664525u + 1013904223u;
        int row = (int)(seed >> 8) % SIDE, column = (int)(seed >> 20) % SIDE;
        table[row][column] += k % 7 - 3;
        wf_model_term(m, row, column, k % 7 - 3);
    }
    for (int i = 0; i < SIDE; i++) {
        int columns[SIDE], count, k = 0;
        double values[SIDE];
        count = wf_model_row_terms(m, i, columns, values);
        for (int j = 0; j < SIDE; j++) {
            bool here = k < count && columns[k] == j;
            assert_close(here ? values[k] : 0, table[i][j], 0);
            k += here;
        }
        assert_int_equal(k, count);
    }
    wf_model_free(m);
}

static void copies_are_independent(void **state)
{
    (void)state;
    struct wf_model *m = small_model(), *copy = wf_model_copy(m);
    char *before, *after;
    assert_int_equal(wf_model_write_lp(m, "t", &before, NULL), WF_OK);
    wf_model_set_bounds(m, 0, 1, 2);
    wf_model_term(m, 0, 0, 7);
    wf_model_clear_costs(m);
    assert_int_equal(wf_model_write_lp(copy, "t", &after, NULL), WF_OK);
    assert_string_equal(before, after);
    assert_close(wf_model_offset(m), 0, 0);
    assert_close(wf_model_cost(m, 0), 0, 0);
    wf_free(before);
    wf_free(after);
    wf_model_free(m);
    wf_model_free(copy);
}

/* ---- What a point is worth ------------------------------------------------------------------- */

static void value_and_rows(void **state)
{
    (void)state;
    struct wf_model *m = small_model();
    const double x[] = {2, 1};
    assert_close(wf_model_value(m, x), 3 * 2 + 1 + 10, 0);
    assert_close(wf_model_row_value(m, 0, x), 4, 0);
    assert_close(wf_model_row_value(m, 1, x), 0, 0);
    wf_model_free(m);
}

static void violation_names_the_worst(void **state)
{
    (void)state;
    static const struct {
        double x[2], worst, relaxed;
        int row;
    } rows[] = {
        {{2, 1}, 0, 0, -1},              /* none */
        {{4, 2}, 3.0 / 5, 3.0 / 5, 0},   /* sum 8, 3 above 5, in units of 5 */
        {{0, 0}, 1, 1, 0},               /* sum 0, 1 below 1, in units of 1 */
        {{1, 1}, 0.5, 0.5, 1},           /* link 0.5 above 0 */
        {{5, 0}, 1.0 / 4, 1.0 / 4, -1},  /* x 1 above 4, in units of 4 */
        {{2, 0.75}, 0.25, 0, -1},        /* y not whole */
        {{2, 1 + 1e-7}, 1e-7, 1e-7, -1}, /* hardly */
        {{2, -1}, 1, 1, -1},             /* a bound and a row alike: the bound comes first */
    };
    struct wf_model *m = small_model();
    for (size_t i = 0; i < COUNT_OF(rows); i++) {
        int row = 99;
        assert_close(wf_model_violation(m, rows[i].x, &row), rows[i].worst, 1e-12);
        assert_int_equal(row, rows[i].row);
        assert_close(wf_model_violation_relaxed(m, rows[i].x, NULL), rows[i].relaxed, 1e-12);
    }
    const double nan_point[] = {nan(""), 1};
    assert_true(wf_model_violation(m, nan_point, NULL) == HUGE_VAL);
    wf_model_free(m);
}

/* ---- Memory ---------------------------------------------------------------------------------- */

/* Enough for every kind of growth. Nothing is looked at until the check. */
static struct wf_model *grown(void)
{
    struct wf_model *m = wf_model_new();
    if (!m)
        return NULL;
    for (int j = 0; j < 20; j++)
        wf_model_column(m, 0, 9, j, j % 2 == 0, "a label of some length so that the arena grows");
    for (int i = 0; i < 20; i++) {
        int row = wf_model_row(m, 0, 5, "row");
        for (int j = 0; j < 20; j++)
            wf_model_term(m, row, j, i + j + 1);
    }
    wf_model_set_bounds(m, 0, 0, 1); /* safe even where nothing was added */
    wf_model_set_row(m, 0, 0, 1);
    wf_model_set_cost(m, 0, 1);
    return m;
}

static void building_survives_no_memory(void **state)
{
    (void)state;
    long n = 0;
    for (bool done = false; !done; n++) {
        wf_alloc_fail_at(n);
        struct wf_model *m = grown();
        long made = wf_alloc_count();
        wf_alloc_fail_at(-1);
        done = made <= n;
        if (m)
            assert_int_equal(wf_model_check(m, NULL), done ? WF_OK : WF_MEMORY);
        assert_true(m || !done);
        wf_model_free(m);
    }
    assert_true(n > 20);
}

static void copying_survives_no_memory(void **state)
{
    (void)state;
    struct wf_model *m = grown(), *copy = NULL;
    for (long n = 0; !copy; n++) {
        wf_alloc_fail_at(n);
        copy = wf_model_copy(m);
        assert_true(copy || wf_alloc_count() > n);
        wf_alloc_fail_at(-1);
    }
    assert_int_equal(wf_model_check(copy, NULL), WF_OK);
    wf_model_free(copy);
    wf_model_free(m);
}

/* A failed model says so, whatever else is asked of it. */
static void a_failed_model_copies_as_failed(void **state)
{
    (void)state;
    struct wf_model *m = wf_model_new();
    wf_alloc_fail_at(0);
    int column = wf_model_column(m, 0, 1, 0, false, "lost");
    wf_alloc_fail_at(-1);
    assert_int_equal(column, 0);
    assert_int_equal(wf_model_check(m, NULL), WF_MEMORY);
    struct wf_model *copy = wf_model_copy(m);
    assert_int_equal(wf_model_check(copy, NULL), WF_MEMORY);
    wf_model_free(copy);
    wf_model_free(m);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(columns_and_rows_count_from_0),
        cmocka_unit_test(labels_are_copied),
        cmocka_unit_test(terms_add_up_in_order_of_column),
        cmocka_unit_test(many_terms_are_all_kept),
        cmocka_unit_test(copies_are_independent),
        cmocka_unit_test(value_and_rows),
        cmocka_unit_test(violation_names_the_worst),
        cmocka_unit_test(building_survives_no_memory),
        cmocka_unit_test(copying_survives_no_memory),
        cmocka_unit_test(a_failed_model_copies_as_failed),
    };
    return cmocka_run_group_tests_name("model", tests, NULL, NULL) != 0;
}
