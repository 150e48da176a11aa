/* The model: building, merging, copying, checking, what a point is worth, and its text. */
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

/* ---- The check ------------------------------------------------------------------------------- */

static void no_columns(struct wf_model *m)
{
    (void)m; /* the caller makes an empty one */
}

static void nan_cost(struct wf_model *m)
{
    wf_model_set_cost(m, 0, nan(""));
}

static void nan_low(struct wf_model *m)
{
    wf_model_set_bounds(m, 0, nan(""), 1);
}

static void crossed(struct wf_model *m)
{
    wf_model_set_bounds(m, 0, 2, 1);
}

static void at_infinity(struct wf_model *m)
{
    wf_model_set_bounds(m, 0, HUGE_VAL, HUGE_VAL);
}

static void huge_bound(struct wf_model *m)
{
    wf_model_set_bounds(m, 0, 0, 1.1e9);
}

static void open_integer(struct wf_model *m)
{
    wf_model_set_bounds(m, 1, 0, HUGE_VAL);
}

static void wide_integer(struct wf_model *m)
{
    wf_model_set_bounds(m, 1, 0, 1000001);
}

static void broken_integer(struct wf_model *m)
{
    wf_model_set_bounds(m, 1, 0, 2.5);
}

static void made_integer(struct wf_model *m)
{
    wf_model_set_bounds(m, 0, -HUGE_VAL, 4);
    wf_model_set_integer(m, 0, true);
}

static void nan_row(struct wf_model *m)
{
    wf_model_set_row(m, 0, 0, nan(""));
}

static void crossed_row(struct wf_model *m)
{
    wf_model_set_row(m, 1, 1, 0);
}

static void nan_term(struct wf_model *m)
{
    wf_model_term(m, 0, 0, nan(""));
}

static void huge_term(struct wf_model *m)
{
    wf_model_term(m, 0, 0, -1.1e9);
}

static void infinite_offset(struct wf_model *m)
{
    wf_model_set_offset(m, HUGE_VAL);
}

static void absent_row(struct wf_model *m)
{
    wf_model_term(m, 2, 0, 1);
}

static void absent_column(struct wf_model *m)
{
    wf_model_term(m, 0, -1, 1);
}

static void absent_cost(struct wf_model *m)
{
    wf_model_set_cost(m, 2, 1);
}

static struct refusal {
    const char *name;
    void (*spoil)(struct wf_model *m);
    const char *message; /* a part of it */
} refusals[] = {
    {"no rows or columns", no_columns, "0 rows and 0 columns"},
    {"a cost that is NaN", nan_cost, "column 0 'x' costs nan"},
    {"a bound that is NaN", nan_low, "column 0 'x' has no sane bounds: nan to 1"},
    {"bounds that cross", crossed, "column 0 'x' has no sane bounds: 2 to 1"},
    {"bounds at infinity", at_infinity, "column 0 'x' has no sane bounds: inf to inf"},
    {"a huge bound", huge_bound, "column 0 'x' has no sane bounds: 0 to 1.1e+09"},
    {"a whole column without a bound", open_integer, "whole column 1 'y' is bounded by 0 and inf"},
    {"a whole column with a wide bound", wide_integer, "whole column 1 'y'"},
    {"a whole column with a broken bound", broken_integer, "bounded by 0 and 2.5"},
    {"a column made whole", made_integer, "whole column 0 'x' is bounded by -inf and 4"},
    {"a row bound that is NaN", nan_row, "row 0 'sum' has no sane bounds: 0 to nan"},
    {"row bounds that cross", crossed_row, "row 1 'link' has no sane bounds: 1 to 0"},
    {"a term that is NaN", nan_term, "row 0 'sum' takes column 0 nan times"},
    {"a huge term", huge_term, "row 0 'sum' takes column 0 -1.1e+09 times"},
    {"an infinite offset", infinite_offset, "the offset is inf"},
    {"a term in a row that is not there", absent_row, "a row or a column that is not there"},
    {"a term of a column that is not there", absent_column, "not there"},
    {"a cost of a column that is not there", absent_cost, "not there"},
};

static void one_refusal(void **state)
{
    const struct refusal *r = *state;
    struct wf_error e = {0};
    char *text = NULL;
    struct wf_model *m = r->spoil == no_columns ? wf_model_new() : small_model();
    r->spoil(m);
    assert_int_equal(wf_model_check(m, &e), WF_INTERNAL);
    assert_int_equal(e.status, WF_INTERNAL);
    if (!strstr(e.text, r->message))
        print_error("message: %s\n", e.text);
    assert_non_null(strstr(e.text, r->message));
    assert_int_equal(wf_model_write_lp(m, NULL, &text, NULL), WF_INTERNAL);
    assert_null(text);
    struct wf_model *copy = wf_model_copy(m); /* a copy is no way round it */
    assert_int_equal(wf_model_check(copy, NULL), WF_INTERNAL);
    wf_model_free(copy);
    wf_model_free(m);
}

static void limits_themselves_pass(void **state)
{
    (void)state;
    struct wf_model *m = small_model();
    wf_model_set_bounds(m, 0, -HUGE_VAL, HUGE_VAL);
    wf_model_set_bounds(m, 1, -1e6, 1e6);
    wf_model_set_cost(m, 0, -1e9);
    wf_model_set_row(m, 0, -1e9, 1e9);
    assert_int_equal(wf_model_check(m, NULL), WF_OK);
    wf_model_free(m);
}

static void all_faults_are_told_at_once(void **state)
{
    (void)state;
    struct wf_model *m = small_model();
    struct wf_error e = {0};
    nan_cost(m);
    crossed_row(m);
    infinite_offset(m);
    assert_int_equal(wf_model_check(m, &e), WF_INTERNAL);
    assert_int_equal(e.count, 3);
    wf_model_free(m);
}

/* ---- The text -------------------------------------------------------------------------------- */

static const char all_kinds[] = "\\ a title\n"
                                "\\ columns:\n"
                                "\\   x0  pale malt, \"2-row\"\n"
                                "\\   x1  a ? b\n"
                                "\\   x2  \n"
                                "\\   x3  fixed\n"
                                "\\   x4  used\n"
                                "\\   x5  steps\n"
                                "\\ rows:\n"
                                "\\   r0  range\n"
                                "\\   r1  equal\n"
                                "\\   r2  least\n"
                                "\\   r3  most, empty\n"
                                "\\   r4  asks nothing\n"
                                "Minimize\n"
                                " cost: + 0.1 x0 - 2 x1 + 0 x2 + 0.3333333333333333 x3 + 4.5 one\n"
                                "Subject To\n"
                                " r0lo: + 1 x0 - 1e-05 x3 >= -1.5\n"
                                " r0hi: + 1 x0 - 1e-05 x3 <= 2\n"
                                " r1: + 1 x1 + 1 x4 + 1 x5 = 3\n"
                                " r2: + 0.1 x0 >= 0\n"
                                " r3: + 0 x0 <= 7\n"
                                "Bounds\n"
                                " 0 <= x0 <= +inf\n"
                                " x1 free\n"
                                " -inf <= x2 <= -3\n"
                                " x3 = 0.1\n"
                                " -2 <= x5 <= 7\n"
                                " one = 1\n"
                                "Generals\n"
                                " x5\n"
                                "Binaries\n"
                                " x4\n"
                                "End\n";

static void text_of_all_kinds(void **state)
{
    (void)state;
    struct wf_model *m = wf_model_new();
    wf_model_column(m, 0, HUGE_VAL, 0.1, false, "pale malt, \"2-row\"");
    wf_model_column(m, -HUGE_VAL, HUGE_VAL, -2, false, "a \n b");
    wf_model_column(m, -HUGE_VAL, -3, 0, false, "");
    wf_model_column(m, 0.1, 0.1, 1.0 / 3, false, "fixed");
    wf_model_column(m, 0, 1, 0, true, "used");
    wf_model_column(m, -2, 7, 0, true, "steps");
    int row = wf_model_row(m, -1.5, 2, "range");
    wf_model_term(m, row, 0, 1);
    wf_model_term(m, row, 3, -1e-5);
    row = wf_model_row(m, 3, 3, "equal");
    for (int j = 5; j > 0; j -= j == 5 ? 1 : 3)
        wf_model_term(m, row, j, 1);
    row = wf_model_row(m, 0, HUGE_VAL, "least");
    wf_model_term(m, row, 0, 0.1);
    wf_model_row(m, -HUGE_VAL, 7, "most, empty");
    wf_model_row(m, -HUGE_VAL, HUGE_VAL, "asks nothing");
    wf_model_set_offset(m, 4.5);
    char *text = NULL;
    assert_int_equal(wf_model_write_lp(m, "a title", &text, NULL), WF_OK);
    assert_string_equal(text, all_kinds);
    wf_free(text);
    wf_model_free(m);
}

static void no_line_is_long(void **state)
{
    (void)state;
    char label[1000];
    memset(label, 'k', sizeof label - 1);
    label[sizeof label - 1] = '\0';
    struct wf_model *m = wf_model_new();
    int row = wf_model_row(m, 0, 1.0 / 3, label);
    for (int j = 0; j < 200; j++)
        wf_model_term(m, row, wf_model_column(m, 0, 1e6, 1e-7 / (j + 3), true, label),
                      1e5 / (j + 7));
    char *text = NULL;
    assert_int_equal(wf_model_write_lp(m, label, &text, NULL), WF_OK);
    size_t longest = 0;
    for (const char *p = text; *p != '\0'; p += strcspn(p, "\n") + 1)
        longest = strcspn(p, "\n") > longest ? strcspn(p, "\n") : longest;
    assert_in_range(longest, 60, 120);
    wf_free(text);
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

static void writing_survives_no_memory(void **state)
{
    (void)state;
    struct wf_model *m = grown();
    enum wf_status s = WF_MEMORY;
    char *text = NULL;
    for (long n = 0; s == WF_MEMORY; n++) {
        struct wf_error e = {0};
        wf_alloc_fail_at(n);
        s = wf_model_write_lp(m, "t", &text, &e);
        wf_alloc_fail_at(-1);
        assert_int_equal(e.status, s);
        assert_true((text != NULL) == (s == WF_OK));
    }
    assert_int_equal(s, WF_OK);
    wf_free(text);
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
        cmocka_unit_test(limits_themselves_pass),
        cmocka_unit_test(all_faults_are_told_at_once),
        cmocka_unit_test(text_of_all_kinds),
        cmocka_unit_test(no_line_is_long),
        cmocka_unit_test(building_survives_no_memory),
        cmocka_unit_test(copying_survives_no_memory),
        cmocka_unit_test(writing_survives_no_memory),
        cmocka_unit_test(a_failed_model_copies_as_failed),
    };
    struct CMUnitTest each[COUNT_OF(refusals)];
    for (size_t i = 0; i < COUNT_OF(refusals); i++)
        each[i] = (struct CMUnitTest){
            .name = refusals[i].name, .test_func = one_refusal, .initial_state = &refusals[i]};
    int failed = cmocka_run_group_tests_name("model", tests, NULL, NULL);
    failed += _cmocka_run_group_tests("model refused", each, COUNT_OF(each), NULL, NULL);
    return failed != 0;
}
