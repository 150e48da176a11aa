/*
 * The search at its limits: hardly any time, cancelled, told of its progress, and out of memory at
 * every allocation.
 */
#include "support/test.h"

#include "support/solved.h"

#include "base/alloc.h"

#include <signal.h>
#include <sys/time.h>
#include <time.h>

static double now(void)
{
    struct timespec t;
    clock_gettime(CLOCK_MONOTONIC, &t);
    return (double)t.tv_sec + 1e-9 * (double)t.tv_nsec;
}

/* Many lots on a fine scale within narrow windows: no search is done with that at once. */
static struct gen *hard(uint64_t seed, size_t malts)
{
    const struct gen_options o = {.seed = seed,
                                  .malts = malts,
                                  .hops = 30,
                                  .yeasts = 2,
                                  .slots = 4,
                                  .scale = GEN_FINE,
                                  .planted = true,
                                  .tight = true,
                                  .aims = true,
                                  .fermented = true};
    return gen_make(&o);
}

/* ---- Time ------------------------------------------------------------------------------------ */

/* A recipe, with a bound that is none too high; or that none was found; never that there is none.
 */
static void check_in_time(struct gen *g, double seconds, double patience)
{
    const enum wf_goal goal = WF_GOAL_COST;
    struct verdict planted;
    struct solved s;
    double start = now();
    solved_make(g, &goal, 1, seconds, &s);
    double took = now() - start;
    judge(g, &g->drawn, &planted);
    if (s.status == WF_OK) {
        assert_solved(g, &s, goal);
        assert_case(g, &s, s.bound <= planted.value[goal] + 1e-6);
    } else {
        assert_case(g, &s, s.status != WF_NO_RECIPE && s.recipe == NULL);
        assert_case(g, &s, strstr(s.error.text, "time") != NULL);
    }
    assert_case(g, &s, took <= patience);
    solved_free(&s);
}

static void hardly_any_time(void **state)
{
    (void)state;
    for (uint64_t seed = 1; seed <= 8; seed++) {
        struct gen *g = hard(seed, 200);
        check_in_time(g, 0.001, 3);
        gen_free(g);
    }
}

static void some_time(void **state)
{
    (void)state;
    for (uint64_t seed = 1; seed <= 3; seed++) {
        struct gen *g = hard(seed, 600);
        check_in_time(g, 0.5, 5);
        gen_free(g);
    }
}

/* ---- Cancel ---------------------------------------------------------------------------------- */

static volatile bool stop;

static void on_alarm(int signal)
{
    (void)signal;
    stop = true;
}

static void alarm_after(long milliseconds)
{
    const struct itimerval timer = {.it_value = {milliseconds / 1000, milliseconds % 1000 * 1000}};
    const struct sigaction action = {.sa_handler = on_alarm};
    stop = false;
    assert_int_equal(sigaction(SIGALRM, &action, NULL), 0);
    assert_int_equal(setitimer(ITIMER_REAL, &timer, NULL), 0);
}

static enum wf_status solve_with(const struct gen *g, const struct wf_solve_options *o,
                                 struct wf_recipe **r)
{
    struct wf_error e = {0};
    return wf_solve(&g->target, &g->store, &g->brewhouse, o, r, &e);
}

static void cancelled_before_it_starts(void **state)
{
    (void)state;
    const struct wf_solve_options o = {.today = GEN_TODAY, .cancel = &stop};
    struct gen *g = hard(1, 40);
    struct wf_recipe *r = NULL;
    stop = true;
    assert_int_equal(solve_with(g, &o, &r), WF_CANCELLED);
    assert_null(r);
    gen_free(g);
}

/* With the closest recipe wanted on a fine scale, each would search for seconds. */
static void cancelled_on_the_way(void **state)
{
    (void)state;
    const struct wf_solve_options o = {.today = GEN_TODAY,
                                       .goals = {WF_GOAL_CLOSEST, WF_GOAL_COST},
                                       .goal_count = 2,
                                       .seconds = 20,
                                       .cancel = &stop};
    int cancelled = 0;
    for (uint64_t seed = 1; seed <= 4; seed++) {
        struct gen *g = hard(seed, 600);
        struct wf_recipe *r = NULL;
        alarm_after(20);
        double start = now();
        enum wf_status status = solve_with(g, &o, &r);
        assert_true(status == WF_CANCELLED || status == WF_OK);
        assert_true(status == WF_OK || (r == NULL && now() - start < 2));
        cancelled += status == WF_CANCELLED;
        wf_recipe_free(r);
        gen_free(g);
    }
    assert_true(cancelled > 0);
}

/* ---- Progress -------------------------------------------------------------------------------- */

struct told {
    int times;
    double seconds;
    bool sensible;
};

static void listen(void *data, double seconds, double value, double bound)
{
    struct told *t = data;
    bool known = !isnan(value) && !isnan(bound);
    t->sensible = t->sensible && seconds >= t->seconds && (!known || bound <= value + 1e-6);
    t->seconds = seconds;
    t->times++;
}

static void long_work_tells_its_progress(void **state)
{
    (void)state;
    for (uint64_t seed = 1; seed <= 4; seed++) {
        struct told told = {.sensible = true};
        const struct wf_solve_options o = {.today = GEN_TODAY,
                                           .goals = {WF_GOAL_CLOSEST},
                                           .goal_count = 1,
                                           .seconds = 3,
                                           .gap = 1e-9,
                                           .progress = listen,
                                           .progress_data = &told};
        struct gen *g = hard(seed, 300);
        struct wf_recipe *r = NULL;
        double start = now();
        (void)!solve_with(g, &o, &r);
        assert_true(told.sensible);
        assert_true(told.times > 0 || now() - start < 1);
        wf_recipe_free(r);
        gen_free(g);
    }
}

/* ---- Memory ---------------------------------------------------------------------------------- */

static struct gen *small(uint64_t seed)
{
    const struct gen_options o = {.seed = seed,
                                  .malts = 4,
                                  .hops = 2,
                                  .yeasts = 2,
                                  .slots = 2,
                                  .scale = GEN_TINY,
                                  .planted = seed % 2 == 1,
                                  .aims = true,
                                  .fermented = true};
    return gen_make(&o);
}

/* Each allocation in turn, the first hundreds and then some; the last run succeeds. */
static void fail_each(enum wf_status (*run)(const struct gen *g), const struct gen *g,
                      enum wf_status whole)
{
    wf_alloc_fail_at(-1);
    assert_int_equal(run(g), whole);
    long count = wf_alloc_count();
    assert_true(count > 20);
    for (long n = 0; n < count; n += n < 400 ? 1 : 1 + count / 200) {
        wf_alloc_fail_at(n);
        enum wf_status status = run(g);
        wf_alloc_fail_at(-1);
        if (status != WF_MEMORY)
            print_error("allocation %ld of %ld failed, status %d\n", n, count, (int)status);
        assert_int_equal(status, WF_MEMORY);
    }
    assert_int_equal(run(g), whole);
}

static enum wf_status run_solve(const struct gen *g)
{
    const struct wf_solve_options o = {
        .today = GEN_TODAY, .goals = {WF_GOAL_FEWEST}, .goal_count = 1, .seconds = 60};
    struct wf_error e = {0};
    struct wf_recipe *r = NULL;
    enum wf_status status = wf_solve(&g->target, &g->store, &g->brewhouse, &o, &r, &e);
    assert_true(status != WF_MEMORY || (r == NULL && e.text[0] != '\0'));
    wf_recipe_free(r);
    return status;
}

static enum wf_status run_model_text(const struct gen *g)
{
    const struct wf_solve_options o = {.today = GEN_TODAY, .seconds = 60};
    struct wf_error e = {0};
    char *text = NULL;
    enum wf_status status =
        wf_solve_model_text(&g->target, &g->store, &g->brewhouse, &o, &text, &e);
    assert_true((status == WF_OK) == (text != NULL));
    wf_text_release(text);
    return status;
}

static void memory_runs_out(void **state)
{
    (void)state;
    struct gen *g = small(3);
    fail_each(run_solve, g, WF_OK);
    fail_each(run_model_text, g, WF_OK);
    gen_free(g);
}

static void memory_runs_out_with_no_recipe(void **state)
{
    (void)state;
    struct gen *g = small(3);
    g->target.colour = (struct wf_range){90, 91, (double)NAN}; /* darker than all of its lots */
    fail_each(run_solve, g, WF_NO_RECIPE);
    gen_free(g);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(hardly_any_time),
        cmocka_unit_test(some_time),
        cmocka_unit_test(cancelled_before_it_starts),
        cmocka_unit_test(cancelled_on_the_way),
        cmocka_unit_test(long_work_tells_its_progress),
        cmocka_unit_test(memory_runs_out),
        cmocka_unit_test(memory_runs_out_with_no_recipe),
    };
    return cmocka_run_group_tests_name("limits", tests, NULL, NULL) != 0;
}
