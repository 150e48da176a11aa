/* What a model must not hold: one test a fault. */
#include "support/test.h"

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

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(limits_themselves_pass),
        cmocka_unit_test(all_faults_are_told_at_once),
    };
    struct CMUnitTest each[COUNT_OF(refusals)];
    for (size_t i = 0; i < COUNT_OF(refusals); i++)
        each[i] = (struct CMUnitTest){
            .name = refusals[i].name, .test_func = one_refusal, .initial_state = &refusals[i]};
    int failed = cmocka_run_group_tests_name("model check", tests, NULL, NULL);
    failed += _cmocka_run_group_tests("model refused", each, COUNT_OF(each), NULL, NULL);
    return failed != 0;
}
