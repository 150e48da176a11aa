/* Estimates that a few wild figures do not move: worked examples from print, and what holds for any
 * figures. */
#include "support/dice.h"
#include "support/memory.h"
#include "support/test.h"

#include "base/robust.h"

/* ---- From print ------------------------------------------------------------------------------ */

/* M. Hollander, D. Wolfe, Nonparametric Statistical Methods (1973), chapter 3: depression scores of
 * nine patients before and after a drug; the estimate of the shift is 0.46 (from memory). */
static void the_shift_of_nine_patients(void **state)
{
    static const double before[] = {1.83, 0.50, 1.62, 2.48, 1.68, 1.88, 1.55, 3.06, 1.30};
    static const double after[] = {0.878, 0.647, 0.598, 2.05, 1.06, 1.29, 1.06, 3.14, 1.29};
    double less[9], shift;
    (void)state;
    for (size_t i = 0; i < 9; i++)
        less[i] = before[i] - after[i];
    assert_true(wf_hodges_lehmann(less, 9, &shift));
    assert_close(shift, 0.46, 0.005);
}

/* The same, chapter 9: the seeding of clouds over five years (E. Smith 1967); the slope is -0.056
 * (from memory). */
static void the_slope_of_five_years(void **state)
{
    static const double year[] = {1, 2, 3, 4, 5}, ratio[] = {1.26, 1.27, 1.12, 1.16, 1.03};
    struct wf_slope s;
    (void)state;
    assert_true(wf_theil_sen(year, ratio, 5, &s));
    assert_close(s.slope, -0.056, 0.0005);
    assert_true(s.low < s.slope && s.slope < s.high);
}

/* ---- By hand --------------------------------------------------------------------------------- */

static void small_ones_by_hand(void **state)
{
    double x[] = {5, 1, 3}, even[] = {4, 1, 2, 8}, one = 7, out;
    struct wf_slope s;
    static const double alike[] = {2, 2, 2}, up[] = {1, 2, 9};
    (void)state;
    assert_close(wf_median(x, 3), 3, 0);
    assert_close(wf_median(even, 4), 3, 0);
    assert_true(wf_hodges_lehmann(&one, 1, &out));
    assert_close(out, 7, 0);
    assert_true(wf_qn(&one, 1, &out));
    assert_close(out, 0, 0);
    /* distances of 1, 3, 5: 2, 2, 4; of n = 3 the first counts, times 2.2219 x 0.994 */
    assert_true(wf_qn(x, 3, &out));
    assert_close(out, 2 * 2.2219 * 0.994, 1e-12);
    assert_true(wf_theil_sen(alike, up, 3, &s));
    assert_true(isnan(s.slope));
    assert_true(wf_theil_sen(up, alike, 3, &s)); /* three pairs cannot tell 90 % */
    assert_close(s.slope, 0, 0);
    assert_true(isinf(s.low) && isinf(s.high));
}

/* ---- Any figures ----------------------------------------------------------------------------- */

/* Nearly normal: the sum of twelve uniform figures less six. */
static double normal(struct dice *d)
{
    double sum = -6;
    for (int i = 0; i < 12; i++)
        sum += dice_decimal(d, 0, 1000000, 1e6);
    return sum;
}

static void they_tell_normal_errors(void **state)
{
    struct dice d = {11};
    double x[400], y[400], at, spread = 0;
    struct wf_slope s;
    (void)state;
    for (size_t i = 0; i < 400; i++) {
        x[i] = 3 + 0.5 * normal(&d);
        y[i] = 2 * x[i] + 0.1 * normal(&d);
    }
    assert_true(wf_hodges_lehmann(x, 400, &at) && wf_qn(x, 400, &spread));
    assert_close(at, 3, 0.08);
    assert_close(spread, 0.5, 0.06);
    assert_true(wf_theil_sen(x, y, 400, &s));
    assert_close(s.slope, 2, 0.04);
    assert_true(s.low < 2 && s.high > 2 && s.high - s.low < 0.08);
}

/* The 90 % interval holds the true slope about nine times in ten. */
static void an_interval_is_as_sure_as_it_says(void **state)
{
    struct dice d = {12};
    int held = 0;
    (void)state;
    for (int run = 0; run < 400; run++) {
        double x[12], y[12];
        struct wf_slope s;
        for (size_t i = 0; i < 12; i++) {
            x[i] = dice_decimal(&d, 0, 1000, 10);
            y[i] = -0.3 * x[i] + normal(&d);
        }
        assert_true(wf_theil_sen(x, y, 12, &s));
        held += s.low <= -0.3 && -0.3 <= s.high;
    }
    assert_true(held >= 340 && held <= 396);
}

static void wild_figures_do_not_move_them(void **state)
{
    struct dice d = {13};
    (void)state;
    for (int run = 0; run < 50; run++) {
        double x[20], y[20], at, spread = 0;
        struct wf_slope s;
        for (size_t i = 0; i < 20; i++) {
            bool wild = i < 5;
            x[i] = (double)i;
            y[i] = wild ? 1e6 * normal(&d) : 1 + (double)i + 0.1 * normal(&d);
        }
        assert_true(wf_theil_sen(x, y, 20, &s));
        assert_close(s.slope, 1, 0.5);
        for (size_t i = 0; i < 20; i++)
            y[i] -= x[i];
        assert_true(wf_hodges_lehmann(y, 20, &at) && wf_qn(y, 20, &spread));
        assert_close(at, 1, 0.5);
        assert_true(spread > 0.02 && spread < 0.5);
    }
}

/* Another unit or another zero changes them as it changes the figures; their order does not. */
static void they_go_with_the_unit(void **state)
{
    struct dice d = {14};
    (void)state;
    for (size_t n = 1; n < 30; n++) {
        double x[30], y[30], at[2], spread[2];
        for (size_t i = 0; i < n; i++) {
            x[i] = normal(&d);
            y[n - 1 - i] = 10 - 4 * x[i];
        }
        assert_true(wf_hodges_lehmann(x, n, &at[0]) && wf_hodges_lehmann(y, n, &at[1]));
        assert_close(at[1], 10 - 4 * at[0], 1e-12);
        assert_true(wf_qn(x, n, &spread[0]) && wf_qn(y, n, &spread[1]));
        assert_close(spread[1], 4 * spread[0], 1e-12);
    }
}

static void want_of_memory_is_told(void **state)
{
    static const double x[] = {1, 2, 4, 8};
    struct wf_slope s;
    double out;
    (void)state;
    wf_alloc_fail_at(0);
    assert_false(wf_hodges_lehmann(x, 4, &out));
    wf_alloc_fail_at(0);
    assert_false(wf_qn(x, 4, &out));
    wf_alloc_fail_at(0);
    assert_false(wf_theil_sen(x, x, 4, &s));
    wf_alloc_fail_at(-1);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(the_shift_of_nine_patients),
        cmocka_unit_test(the_slope_of_five_years),
        cmocka_unit_test(small_ones_by_hand),
        cmocka_unit_test(they_tell_normal_errors),
        cmocka_unit_test(an_interval_is_as_sure_as_it_says),
        cmocka_unit_test(wild_figures_do_not_move_them),
        cmocka_unit_test(they_go_with_the_unit),
        cmocka_unit_test(want_of_memory_is_told),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
