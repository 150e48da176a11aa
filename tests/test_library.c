/*
 * The library in other people's programs: several threads at once, cancelled from another thread,
 * silent, and quick to solve again. Only public headers but for the generator of problems.
 */
#include "support/test.h"

#include "support/generate.h"

#include "wortfit/wortfit.h"

#include <fcntl.h>
#include <pthread.h>
#include <sys/stat.h>
#include <time.h>
#include <unistd.h>

static double now(void)
{
    struct timespec t;
    clock_gettime(CLOCK_MONOTONIC, &t);
    return (double)t.tv_sec + 1e-9 * (double)t.tv_nsec;
}

/* ---- What there is --------------------------------------------------------------------------- */

enum { CELLAR, SMALL, SHOP, STORES };
static struct wf_catalogue *catalogue;
static struct wf_store *stores[STORES];

static int set_up(void **state)
{
    static struct wf_error e;
    (void)state;
    if (wf_catalogue_read(&catalogue, &e) == WF_OK &&
        wf_store_read(WF_SOURCE_DIR "/examples/alder-lane-cellar.json", catalogue, &stores[CELLAR],
                      &e) == WF_OK &&
        wf_store_read(WF_SOURCE_DIR "/examples/small-cellar.json", catalogue, &stores[SMALL], &e) ==
            WF_OK &&
        wf_store_sample(catalogue, &stores[SHOP], &e) == WF_OK)
        return 0;
    print_error("%s\n", e.text);
    return 1;
}

static int tear_down(void **state)
{
    (void)state;
    for (int i = 0; i < STORES; i++)
        wf_store_free(stores[i]);
    wf_catalogue_free(catalogue);
    return 0;
}

/* ---- A job: all that one program does with one beer ------------------------------------------ */

struct job {
    const char *target;
    int store;
    enum wf_goal goal;
    double sure; /* 0: any */
    bool worth;
};

/* Some have no recipe: what is said then is compared too. */
static const struct job jobs[] = {
    {"amber-ale", CELLAR, WF_GOAL_COST, 0, true},
    {"american-stout", CELLAR, WF_GOAL_COST, 0, false},
    {"german-pils", SHOP, WF_GOAL_COST, 0, false},
    {"saison", SHOP, WF_GOAL_COST, 0, false},
    {"amber-ale", CELLAR, WF_GOAL_COST, 0.9, false},
    {"american-pale-ale", SHOP, WF_GOAL_COST, 0, false},
    {"amber-ale", SMALL, WF_GOAL_COST, 0, false},
    {"amber-ale", CELLAR, WF_GOAL_USE_UP, 0, false},
};
#define JOBS COUNT_OF(jobs)

static enum wf_status solve(const struct job *job, const struct wf_target *t,
                            struct wf_recipe **out, struct wf_error *e)
{
    const struct wf_solve_options o = {.goals = {job->goal}, .goal_count = 1, .today = GEN_TODAY};
    const struct wf_store *s = stores[job->store];
    struct wf_brewhouse b;
    wf_brewhouse_default(WF_UNITS_METRIC, &b);
    enum wf_status status = job->sure > 0 ? wf_solve_sure(t, s, &b, &o, job->sure, out, e)
                                          : wf_solve(t, s, &b, &o, out, e);
    if (status == WF_OK && job->worth)
        status = wf_recipe_add_worth(*out, t, s, &b, &o, stores[SHOP], e);
    if (*out != NULL && (*out)->ranges == NULL &&
        wf_recipe_add_ranges(*out, t, &b.spread, WF_SURE_PROBABILITY, e) != WF_OK)
        return WF_INTERNAL;
    return status;
}

/* The recipe as a file and as text, and the messages; NULL where something went wrong. To be freed.
 */
static char *run(const struct job *job)
{
    struct wf_error e = {0};
    struct wf_target *t = NULL;
    struct wf_recipe *r = NULL;
    char *json = NULL, *text = NULL, *all = NULL;
    const struct wf_report_style style = {WF_UNITS_METRIC, false};
    enum wf_status status = wf_target_find(job->target, catalogue, &t, &e);
    if (status == WF_OK)
        status = solve(job, t, &r, &e);
    if ((status == WF_OK || status == WF_NO_RECIPE) && r != NULL &&
        wf_report_recipe_json(r, &json, &e) == WF_OK &&
        wf_report_recipe_text(r, &style, &text, &e) == WF_OK) {
        size_t size = strlen(json) + strlen(text) + strlen(e.text) + 3;
        all = malloc(size);
        if (all != NULL)
            snprintf(all, size, "%s\n%s\n%s", json, text, e.text);
    }
    wf_text_release(json);
    wf_text_release(text);
    wf_recipe_free(r);
    wf_target_free(t);
    return all;
}

/* ---- Threads --------------------------------------------------------------------------------- */

#define THREADS 4

struct worker {
    pthread_t thread;
    size_t first;
    char *got[JOBS];
};

/* All jobs, from one of its own on, so that at each moment they differ. */
static void *work(void *data)
{
    struct worker *w = data;
    for (size_t i = 0; i < JOBS; i++) {
        size_t job = (w->first + i) % JOBS;
        w->got[job] = run(&jobs[job]);
    }
    return NULL;
}

static void threads_find_what_one_alone_finds(void **state)
{
    (void)state;
    static struct worker workers[THREADS];
    char *alone[JOBS];
    for (size_t i = 0; i < JOBS; i++) {
        alone[i] = run(&jobs[i]);
        assert_non_null(alone[i]);
    }
    for (size_t k = 0; k < THREADS; k++) {
        workers[k].first = k * JOBS / THREADS;
        assert_int_equal(pthread_create(&workers[k].thread, NULL, work, &workers[k]), 0);
    }
    for (size_t k = 0; k < THREADS; k++)
        assert_int_equal(pthread_join(workers[k].thread, NULL), 0);
    for (size_t i = 0; i < JOBS; i++) {
        for (size_t k = 0; k < THREADS; k++) {
            assert_non_null(workers[k].got[i]);
            assert_string_equal(workers[k].got[i], alone[i]);
            free(workers[k].got[i]);
        }
        free(alone[i]);
    }
}

static void jobs_differ(void **state)
{
    (void)state;
    char *first = run(&jobs[0]), *with_no_recipe = run(&jobs[4]), *other = run(&jobs[7]);
    assert_non_null(strstr(first, "\"status\": \"optimal\""));
    assert_non_null(strstr(first, "\"leans\""));
    assert_non_null(strstr(with_no_recipe, "\"status\": \"none\""));
    assert_string_not_equal(first, other);
    free(first);
    free(with_no_recipe);
    free(other);
}

/* ---- Cancel ---------------------------------------------------------------------------------- */

static volatile bool stop;

static void *stop_soon(void *data)
{
    const struct timespec soon = {0, 200000000};
    (void)data;
    nanosleep(&soon, NULL);
    stop = true;
    return NULL;
}

static struct gen *hard(void)
{
    const struct gen_options o = {.seed = 1,
                                  .malts = 300,
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

typedef enum wf_status solver(const struct gen *g, const struct wf_solve_options *o,
                              struct wf_recipe **out, struct wf_error *e);

static enum wf_status plainly(const struct gen *g, const struct wf_solve_options *o,
                              struct wf_recipe **out, struct wf_error *e)
{
    return wf_solve(&g->target, &g->store, &g->brewhouse, o, out, e);
}

static enum wf_status surely(const struct gen *g, const struct wf_solve_options *o,
                             struct wf_recipe **out, struct wf_error *e)
{
    return wf_solve_sure(&g->target, &g->store, &g->brewhouse, o, 0.9, out, e);
}

static void another_thread_cancels(void **state)
{
    (void)state;
    solver *const solvers[] = {plainly, surely};
    struct gen *g = hard();
    const struct wf_solve_options o = {.goals = {WF_GOAL_CLOSEST, WF_GOAL_COST},
                                       .goal_count = 2,
                                       .seconds = 120,
                                       .today = GEN_TODAY,
                                       .cancel = &stop};
    for (size_t i = 0; i < COUNT_OF(solvers); i++) {
        static struct wf_error e;
        struct wf_recipe *r = NULL;
        pthread_t thread;
        double start = now();
        stop = false;
        wf_error_clear(&e);
        assert_int_equal(pthread_create(&thread, NULL, stop_soon, NULL), 0);
        enum wf_status status = solvers[i](g, &o, &r, &e);
        assert_int_equal(pthread_join(thread, NULL), 0);
        assert_int_equal(status, WF_CANCELLED);
        assert_null(r);
        assert_true(e.text[0] != '\0');
        assert_true(now() - start < 10);
    }
    gen_free(g);
}

/* ---- Silence --------------------------------------------------------------------------------- */

/* Solves, and what can go wrong. False: one of them did not go as it should; to assert would be to
 * print. */
static bool do_everything(void)
{
    static struct wf_error e;
    static const char broken[] = "{\"store\": 1";
    struct wf_target *t = NULL;
    struct wf_store *s = NULL;
    struct wf_recipe *r = NULL;
    char *text = NULL;
    struct wf_brewhouse b;
    const bool stopped = true;
    const struct wf_solve_options o = {.today = GEN_TODAY}, no = {.cancel = &stopped};
    bool good = true;
    wf_brewhouse_default(WF_UNITS_METRIC, &b);
    for (size_t i = 0; i < JOBS; i++) {
        char *got = run(&jobs[i]);
        good = good && got != NULL;
        free(got);
    }
    good = good && wf_target_find("amber-beer", catalogue, &t, &e) == WF_BAD_INPUT;
    good =
        good && wf_store_parse("broken", broken, strlen(broken), catalogue, &s, &e) == WF_BAD_INPUT;
    good = good && wf_store_read("/nowhere", catalogue, &s, &e) == WF_FILE;
    good = good && wf_target_find("amber-ale", catalogue, &t, &e) == WF_OK;
    good = good && wf_solve(t, stores[SHOP], &b, &no, &r, &e) == WF_CANCELLED;
    good = good && wf_solve_model_text(t, stores[CELLAR], &b, &o, &text, &e) == WF_OK;
    wf_text_release(text);
    wf_target_free(t);
    return good;
}

static void nothing_is_printed(void **state)
{
    (void)state;
    char name[] = "/tmp/wortfit-test-XXXXXX";
    int file = mkstemp(name), out = dup(STDOUT_FILENO), err = dup(STDERR_FILENO);
    struct stat told;
    assert_true(file >= 0 && out >= 0 && err >= 0);
    unlink(name);
    fflush(NULL);
    dup2(file, STDOUT_FILENO);
    dup2(file, STDERR_FILENO);
    bool good = do_everything();
    fflush(NULL);
    dup2(out, STDOUT_FILENO);
    dup2(err, STDERR_FILENO);
    assert_true(good);
    assert_int_equal(fstat(file, &told), 0);
    assert_int_equal(told.st_size, 0);
    close(file);
    close(out);
    close(err);
}

/* ---- Again and again ------------------------------------------------------------------------- */

static int ascending(const void *a, const void *b)
{
    const double *x = a, *y = b;
    return (*x > *y) - (*x < *y);
}

/* Measured, not asserted: what a program waits for that solves anew whenever a wish is moved. */
static void a_wish_is_moved(void **state)
{
    (void)state;
    enum { MOVES = 41 };
    const struct gen_options o = {.seed = 7,
                                  .malts = 30,
                                  .hops = 12,
                                  .yeasts = 3,
                                  .slots = 3,
                                  .scale = GEN_COARSE,
                                  .planted = true,
                                  .fermented = true};
    const struct wf_solve_options cost = {.today = GEN_TODAY};
    struct gen *g = gen_make(&o);
    const struct wf_range og = g->target.og;
    double seconds[MOVES];
    size_t found = 0;
    for (int i = 0; i < MOVES; i++) {
        struct wf_error e = {0};
        struct wf_recipe *r = NULL;
        double start = now(), by = 0.0002 * (i - MOVES / 2);
        g->target.og = (struct wf_range){og.low + by, og.high + by, (double)NAN};
        enum wf_status status = wf_solve(&g->target, &g->store, &g->brewhouse, &cost, &r, &e);
        seconds[i] = now() - start;
        assert_true(status == WF_OK || status == WF_NO_RECIPE);
        found += status == WF_OK;
        wf_recipe_free(r);
    }
    qsort(seconds, MOVES, sizeof *seconds, ascending);
    assert_true(found > MOVES / 2);
    print_message("30 malts, a wish moved %d times: median %.1f ms, longest %.1f ms\n", MOVES,
                  1000 * seconds[MOVES / 2], 1000 * seconds[MOVES - 1]);
    gen_free(g);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(jobs_differ),
        cmocka_unit_test(threads_find_what_one_alone_finds),
        cmocka_unit_test(another_thread_cancels),
        cmocka_unit_test(nothing_is_printed),
        cmocka_unit_test(a_wish_is_moved),
    };
    return cmocka_run_group_tests(tests, set_up, tear_down);
}
