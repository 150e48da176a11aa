/*
 * The clock of a search: it ends by work, the same on every machine, or by the time that was set.
 */
#include "support/test.h"

#include "solve/clock.h"

#include <limits.h>

static const struct wf_solve_options untimed = {.gap = 0}, timed = {.seconds = 1000};

static void work_ends_a_search(void **state)
{
    struct wf_clock c = wf_clock_start(&untimed);
    (void)state;
    c.enough = 500;
    c.work = 499;
    assert_true(wf_clock_left(&c) > 0);
    c.work = 500;
    assert_true(wf_clock_left(&c) <= 0);
    c.grace = 600; /* in any case */
    assert_true(wf_clock_left(&c) > 0);
    c.work = 600;
    assert_true(wf_clock_left(&c) <= 0);
}

static void every_search_ends_by_work(void **state)
{
    struct wf_clock c = wf_clock_start(&untimed);
    (void)state;
    c.work = 100000000; /* of minutes */
    assert_true(wf_clock_left(&c) <= 0);
}

static void an_answer_ends_it_sooner(void **state)
{
    struct wf_clock c = wf_clock_start(&untimed);
    (void)state;
    c.enough = LONG_MAX;
    c.work = 1000000;
    assert_true(wf_clock_left(&c) > 0);
    wf_clock_answer(&c);
    assert_true(wf_clock_left(&c) > 0);
    c.work = 2000000;
    wf_clock_answer(&c); /* of another answer, which is no new start */
    assert_true(wf_clock_left(&c) <= 0);
}

static void time_that_is_set_ends_it_alone(void **state)
{
    struct wf_clock c = wf_clock_start(&timed);
    (void)state;
    c.enough = 500;
    c.work = 100000000;
    assert_true(wf_clock_left(&c) > 900 && wf_clock_left(&c) <= 1000);
    assert_int_equal(wf_clock_patience(&c), 0);
    c.limit = 0;
    assert_true(wf_clock_left(&c) <= 0);
}

/* 1 000 of 9 000 are done: of the rest one search gets half, and the next all that is left. */
static void half_of_what_is_left(void **state)
{
    struct wf_clock c = wf_clock_start(&untimed), t = wf_clock_start(&timed);
    (void)state;
    c.enough = 9000;
    c.work = 1000;
    struct wf_clock_ends ends = wf_clock_halve(&c);
    c.work = 4999;
    assert_true(wf_clock_left(&c) > 0);
    c.work = 5000;
    assert_true(wf_clock_left(&c) <= 0);
    wf_clock_restore(&c, ends);
    assert_true(wf_clock_left(&c) > 0);
    c.work = 9000;
    assert_true(wf_clock_left(&c) <= 0);

    ends = wf_clock_halve(&t);
    assert_true(wf_clock_left(&t) > 450 && wf_clock_left(&t) <= 500);
    wf_clock_restore(&t, ends);
    assert_true(wf_clock_left(&t) > 900);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(work_ends_a_search),
        cmocka_unit_test(every_search_ends_by_work),
        cmocka_unit_test(an_answer_ends_it_sooner),
        cmocka_unit_test(time_that_is_set_ends_it_alone),
        cmocka_unit_test(half_of_what_is_left),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
