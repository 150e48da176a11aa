/* An engine that lies: lp.c and solver.c must find it out. The engine of this program is the script
 * below; the library's own is not linked. */
#include "support/test.h"

#include "base/alloc.h"
#include "solve/engine.h"

/* ---- The scripted engine --------------------------------------------------------------------- */

#define CALLS_MOST 8
#define BREAKS     WF_OUTCOME_COUNT /* an outcome that stands for giving up */

/* min 2 x + y, x + y >= 1.5, 0 <= x <= 10, y whole 0..3. Relaxed: 1.5 at (0, 1.5), dual 1. Whole: 2
 * at (0, 2) or (0.5, 1). */
struct lp_claim {
    bool unknown;
    enum wf_outcome outcome;
    bool at_cutoff;
    double value, x[2], dual;
};

struct search_claim {
    enum wf_outcome outcome;
    double bound, x[2];
};

static struct {
    const struct lp_claim *lp;
    const struct search_claim *search;
    int lp_calls, searches, way[CALLS_MOST], opened, closed;
    bool careful[CALLS_MOST], lost;
} script;

struct wf_engine {
    int columns;
};

enum wf_status wf_engine_open(const struct wf_model *m, const struct wf_program *p,
                              struct wf_engine **out, struct wf_error *e)
{
    (void)m;
    *out = wf_alloc(1, sizeof **out);
    if (!*out)
        return wf_error_add(e, WF_MEMORY, "out of memory");
    (*out)->columns = p->columns;
    script.opened++;
    script.lost = false;
    return WF_OK;
}

void wf_engine_close(struct wf_engine *g)
{
    if (g)
        script.closed++;
    wf_free(g);
}

bool wf_engine_alive(const struct wf_engine *g)
{
    return g && !script.lost;
}

void wf_engine_bounds(struct wf_engine *g, int column, double low, double high)
{
    assert_true(column >= 0 && column < g->columns && low <= high);
}

void wf_engine_row(struct wf_engine *g, int row, double low, double high)
{
    assert_true(g && row >= 0 && low <= high);
}

void wf_engine_cost(struct wf_engine *g, int column, double cost)
{
    assert_true(column >= 0 && column < g->columns && isfinite(cost));
}

enum wf_status wf_engine_simplex(struct wf_engine *g, struct wf_engine_simplex *s,
                                 struct wf_error *e)
{
    const struct lp_claim *c = &script.lp[script.lp_calls];
    assert_true(g && script.lp_calls < CALLS_MOST);
    script.way[script.lp_calls++] = s->way;
    if (c->outcome == BREAKS) {
        script.lost = true;
        return wf_error_add(e, WF_INTERNAL, "the solver gave up: scripted");
    }
    s->known = !c->unknown;
    s->outcome = c->outcome;
    s->at_cutoff = c->at_cutoff;
    s->value = c->value;
    memcpy(s->x, c->x, sizeof c->x);
    s->dual[0] = c->dual;
    return WF_OK;
}

enum wf_status wf_engine_search(struct wf_engine *g, struct wf_engine_search *s, struct wf_error *e)
{
    const struct search_claim *c = &script.search[script.searches];
    assert_true(g && script.searches < CALLS_MOST);
    script.careful[script.searches++] = s->careful;
    if (c->outcome == BREAKS) {
        script.lost = true;
        return wf_error_add(e, WF_INTERNAL, "the solver gave up: scripted");
    }
    s->outcome = c->outcome;
    s->bound = c->bound;
    memcpy(s->x, c->x, sizeof c->x);
    return WF_OK;
}

static struct wf_model *model(void)
{
    struct wf_model *m = wf_model_new();
    wf_model_column(m, 0, 10, 2, false, "x");
    wf_model_column(m, 0, 3, 1, true, "y");
    wf_model_row(m, 1.5, HUGE_VAL, "sum");
    wf_model_term(m, 0, 0, 1);
    wf_model_term(m, 0, 1, 1);
    return m;
}

/* ---- Linear programs ------------------------------------------------------------------------- */

#define TRUE_OPTIMUM                                                                               \
    {                                                                                              \
        .outcome = WF_OUTCOME_OPTIMAL, .value = 1.5, .x = {0, 1.5}, .dual = 1                      \
    }

static struct lp_case {
    const char *name;
    double row_low, cutoff;
    struct lp_claim claims[CALLS_MOST];
    enum wf_status status;
    int calls;
    enum wf_outcome outcome;
    double value;
} lp_cases[] = {
    {"the truth is believed at once",
     1.5,
     HUGE_VAL,
     {TRUE_OPTIMUM},
     WF_OK,
     1,
     WF_OUTCOME_OPTIMAL,
     1.5},
    {"no point, without proof, is asked again",
     1.5,
     HUGE_VAL,
     {{.outcome = WF_OUTCOME_INFEASIBLE, .dual = 1}, TRUE_OPTIMUM},
     WF_OK,
     2,
     WF_OUTCOME_OPTIMAL,
     1.5},
    {"no point, with a proof",
     14,
     HUGE_VAL,
     {{.outcome = WF_OUTCOME_INFEASIBLE, .dual = 3}},
     WF_OK,
     1,
     WF_OUTCOME_INFEASIBLE,
     HUGE_VAL},
    {"no point, with a proof of the wrong sign",
     14,
     HUGE_VAL,
     {{.outcome = WF_OUTCOME_INFEASIBLE, .dual = -3},
      {.outcome = WF_OUTCOME_INFEASIBLE, .dual = 1}},
     WF_OK,
     2,
     WF_OUTCOME_INFEASIBLE,
     HUGE_VAL},
    {"a point off its row is asked again",
     1.5,
     HUGE_VAL,
     {{.outcome = WF_OUTCOME_OPTIMAL, .value = 1.5, .x = {0, 1.499}, .dual = 1}, TRUE_OPTIMUM},
     WF_OK,
     2,
     WF_OUTCOME_OPTIMAL,
     1.5},
    {"a point out of its bounds is asked again",
     1.5,
     HUGE_VAL,
     {{.outcome = WF_OUTCOME_OPTIMAL, .value = 1.5, .x = {-1, 2.5}, .dual = 1}, TRUE_OPTIMUM},
     WF_OK,
     2,
     WF_OUTCOME_OPTIMAL,
     1.5},
    {"a point that is NaN is asked again",
     1.5,
     HUGE_VAL,
     {{.outcome = WF_OUTCOME_OPTIMAL, .value = 1.5, .x = {0, (double)NAN}, .dual = 1},
      TRUE_OPTIMUM},
     WF_OK,
     2,
     WF_OUTCOME_OPTIMAL,
     1.5},
    {"duals that prove less are asked again",
     1.5,
     HUGE_VAL,
     {{.outcome = WF_OUTCOME_OPTIMAL, .value = 1.5, .x = {0, 1.5}, .dual = 0.9}, TRUE_OPTIMUM},
     WF_OK,
     2,
     WF_OUTCOME_OPTIMAL,
     1.5},
    {"a cutoff that is not proved is asked again",
     1.5,
     1.4,
     {{.outcome = WF_OUTCOME_INFEASIBLE, .at_cutoff = true, .dual = 0.5}, TRUE_OPTIMUM},
     WF_OK,
     2,
     WF_OUTCOME_INFEASIBLE,
     1.5},
    {"a cutoff that is proved",
     1.5,
     1.4,
     {{.outcome = WF_OUTCOME_INFEASIBLE, .at_cutoff = true, .dual = 0.95}},
     WF_OK,
     1,
     WF_OUTCOME_INFEASIBLE,
     1.425},
    {"no answer is asked again",
     1.5,
     HUGE_VAL,
     {{.unknown = true}, TRUE_OPTIMUM},
     WF_OK,
     2,
     WF_OUTCOME_OPTIMAL,
     1.5},
    {"no answer in any way",
     1.5,
     HUGE_VAL,
     {{.unknown = true}, {.unknown = true}, {.unknown = true}, {.unknown = true}},
     WF_INTERNAL,
     4,
     0,
     0},
    {"giving up is not asked again", 1.5, HUGE_VAL, {{.outcome = BREAKS}}, WF_INTERNAL, 1, 0, 0},
    {"the last way is believed, at the value that is proved",
     1.5,
     HUGE_VAL,
     {{.unknown = true},
      {.unknown = true},
      {.unknown = true},
      {.outcome = WF_OUTCOME_OPTIMAL, .value = 1.5, .x = {0, 1.5}, .dual = 0.5}},
     WF_OK,
     4,
     WF_OUTCOME_OPTIMAL,
     0.75},
    {"out of time is believed",
     1.5,
     HUGE_VAL,
     {{.outcome = WF_OUTCOME_UNKNOWN}},
     WF_OK,
     1,
     WF_OUTCOME_UNKNOWN,
     -HUGE_VAL},
};

static void one_lp_case(void **state)
{
    const struct lp_case *c = *state;
    struct wf_model *m = model();
    struct wf_lp *lp;
    double x[2] = {99, 99};
    struct wf_lp_answer a = {.x = x};
    memset(&script, 0, sizeof script);
    script.lp = c->claims;
    wf_model_set_row(m, 0, c->row_low, HUGE_VAL);
    assert_int_equal(wf_lp_open(m, &lp, NULL), WF_OK);
    assert_int_equal(wf_lp_solve(lp, c->cutoff, &a, NULL), c->status);
    assert_int_equal(script.lp_calls, c->calls);
    for (int i = 0; i < c->calls; i++)
        assert_int_equal(script.way[i], i);
    if (c->status == WF_OK) {
        assert_int_equal(a.outcome, c->outcome);
        if (isinf(c->value))
            assert_true(a.value == c->value);
        else
            assert_close(a.value, c->value, 1e-12);
        assert_close(x[1], c->outcome == WF_OUTCOME_OPTIMAL ? 1.5 : 99, 0);
    }
    if (script.lost)
        assert_int_equal(wf_lp_solve(lp, HUGE_VAL, &a, NULL), WF_INTERNAL);
    wf_lp_close(lp);
    assert_int_equal(script.opened, script.closed);
    wf_model_free(m);
}

/* ---- Branch and bound ------------------------------------------------------------------------ */

#define OK_LP TRUE_OPTIMUM
/* The whole columns fixed: y at 1, x follows. */
#define REPAIRED                                                                                   \
    {                                                                                              \
        .outcome = WF_OUTCOME_OPTIMAL, .value = 2, .x = {0.5, 1}, .dual = 2                        \
    }
#define NOT_REPAIRED                                                                               \
    {                                                                                              \
        .unknown = true                                                                            \
    }

static struct search_case {
    const char *name;
    double gap, cutoff;
    struct lp_claim lp[CALLS_MOST];
    struct search_claim claims[CALLS_MOST];
    enum wf_status status;
    int searches;
    enum wf_outcome outcome;
    double value, bound;
} search_cases[] = {
    {"a true optimum",
     0,
     (double)NAN,
     {OK_LP},
     {{WF_OUTCOME_OPTIMAL, 2, {0, 2}}},
     WF_OK,
     1,
     WF_OUTCOME_OPTIMAL,
     2,
     2},
    {"a whole number by rounding",
     0,
     (double)NAN,
     {OK_LP},
     {{WF_OUTCOME_OPTIMAL, 2, {0, 2.00000001}}},
     WF_OK,
     1,
     WF_OUTCOME_OPTIMAL,
     2,
     2},
    {"rounding breaks a row, and x mends it",
     0,
     (double)NAN,
     {OK_LP, REPAIRED},
     {{WF_OUTCOME_OPTIMAL, 2, {0.4999, 1.0001}}},
     WF_OK,
     1,
     WF_OUTCOME_OPTIMAL,
     2,
     2},
    {"a better bound than the relaxation's is kept",
     0,
     (double)NAN,
     {OK_LP},
     {{WF_OUTCOME_FEASIBLE, 1.7, {0, 2}}},
     WF_OK,
     1,
     WF_OUTCOME_FEASIBLE,
     2,
     1.7},
    {"the relaxation's bound is kept",
     0,
     (double)NAN,
     {OK_LP},
     {{WF_OUTCOME_FEASIBLE, -5, {0, 2}}},
     WF_OK,
     1,
     WF_OUTCOME_FEASIBLE,
     2,
     1.5},
    {"stopped, but within the gap",
     0.2,
     (double)NAN,
     {OK_LP},
     {{WF_OUTCOME_FEASIBLE, 1.7, {0, 2}}},
     WF_OK,
     1,
     WF_OUTCOME_OPTIMAL,
     2,
     1.7},
    {"stopped without a point",
     0,
     (double)NAN,
     {OK_LP},
     {{WF_OUTCOME_UNKNOWN, 1.7, {0, 0}}},
     WF_OK,
     1,
     WF_OUTCOME_UNKNOWN,
     (double)NAN,
     1.7},
    {"no point",
     0,
     (double)NAN,
     {OK_LP},
     {{WF_OUTCOME_INFEASIBLE, HUGE_VAL, {0, 0}}},
     WF_OK,
     1,
     WF_OUTCOME_INFEASIBLE,
     (double)NAN,
     HUGE_VAL},
    {"a point on the way that misses a row is no point",
     0,
     (double)NAN,
     {OK_LP,
      {.outcome = WF_OUTCOME_OPTIMAL, .value = 1, .x = {0, 1}, .dual = 1},
      NOT_REPAIRED,
      NOT_REPAIRED,
      {.outcome = WF_OUTCOME_OPTIMAL, .value = 1, .x = {0, 1}, .dual = 1}},
     {{WF_OUTCOME_FEASIBLE, 1.7, {0, 1}}},
     WF_OK,
     1,
     WF_OUTCOME_UNKNOWN,
     (double)NAN,
     1.7},
    {"a false optimum, and the truth the careful way",
     0,
     (double)NAN,
     {OK_LP, NOT_REPAIRED, NOT_REPAIRED, NOT_REPAIRED, NOT_REPAIRED, OK_LP},
     {{WF_OUTCOME_OPTIMAL, 1, {0, 1}}, {WF_OUTCOME_OPTIMAL, 2, {0.5, 1}}},
     WF_OK,
     2,
     WF_OUTCOME_OPTIMAL,
     2,
     2},
    {"a bound above its point's value, twice",
     0,
     (double)NAN,
     {OK_LP, OK_LP},
     {{WF_OUTCOME_FEASIBLE, 2.1, {0, 2}}, {WF_OUTCOME_FEASIBLE, 2.1, {0, 2}}},
     WF_INTERNAL,
     2,
     0,
     0,
     0},
    {"a bound hardly above its point's value",
     0,
     (double)NAN,
     {OK_LP},
     {{WF_OUTCOME_OPTIMAL, 2 + 1e-7, {0, 2}}},
     WF_OK,
     1,
     WF_OUTCOME_OPTIMAL,
     2,
     2},
    {"an optimum that is none, twice: only its bound is kept",
     0,
     (double)NAN,
     {OK_LP, OK_LP},
     {{WF_OUTCOME_OPTIMAL, 1.8, {0, 2}}, {WF_OUTCOME_OPTIMAL, 1.8, {0, 2}}},
     WF_OK,
     2,
     WF_OUTCOME_FEASIBLE,
     2,
     1.8},
    {"giving up, and the truth the careful way",
     0,
     (double)NAN,
     {OK_LP, OK_LP},
     {{.outcome = BREAKS}, {WF_OUTCOME_OPTIMAL, 2, {0, 2}}},
     WF_OK,
     2,
     WF_OUTCOME_OPTIMAL,
     2,
     2},
    {"giving up twice",
     0,
     (double)NAN,
     {OK_LP, OK_LP},
     {{.outcome = BREAKS}, {.outcome = BREAKS}},
     WF_INTERNAL,
     2,
     0,
     0,
     0},
    {"a point that is NaN",
     0,
     (double)NAN,
     {OK_LP, {.outcome = BREAKS}, OK_LP, {.outcome = BREAKS}},
     {{WF_OUTCOME_OPTIMAL, 2, {(double)NAN, 2}}, {WF_OUTCOME_OPTIMAL, 2, {(double)NAN, 2}}},
     WF_INTERNAL,
     2,
     0,
     0,
     0},
    {"an optimum no better than the cutoff",
     0,
     2,
     {OK_LP},
     {{WF_OUTCOME_OPTIMAL, 2, {0, 2}}},
     WF_OK,
     1,
     WF_OUTCOME_INFEASIBLE,
     (double)NAN,
     2 - 2e-6},
    {"a point on the way no better than the cutoff",
     0,
     2,
     {OK_LP},
     {{WF_OUTCOME_FEASIBLE, 1.6, {0, 2}}},
     WF_OK,
     1,
     WF_OUTCOME_UNKNOWN,
     (double)NAN,
     1.6},
};

static void check_solution(const struct search_case *c, const struct wf_solution *s)
{
    assert_int_equal(s->outcome, c->outcome);
    if (isinf(c->bound))
        assert_true(s->bound == c->bound);
    else
        assert_close(s->bound, c->bound, 1e-9);
    assert_true((s->x == NULL) == (bool)isnan(c->value));
    if (!s->x)
        return;
    assert_close(s->value, c->value, 1e-12);
    assert_close(s->x[1], round(s->x[1]), 0);
    assert_true(s->x[0] + s->x[1] >= 1.5 - 1e-6);
}

static void one_search_case(void **state)
{
    const struct search_case *c = *state;
    struct wf_model *m = model();
    struct wf_solver_options o = {.gap = c->gap, .cutoff = c->cutoff};
    struct wf_solution s;
    memset(&script, 0, sizeof script);
    script.lp = c->lp;
    script.search = c->claims;
    assert_int_equal(wf_solver_run(m, &o, &s, NULL), c->status);
    assert_int_equal(script.searches, c->searches);
    for (int i = 0; i < c->searches; i++)
        assert_int_equal(script.careful[i], i > 0);
    if (c->status == WF_OK)
        check_solution(c, &s);
    else
        assert_null(s.x);
    assert_int_equal(script.opened, script.closed);
    wf_solution_clear(&s);
    wf_model_free(m);
}

/* A relaxed optimum that only the last way gives, and with duals that prove less, is not called
 * optimal. */
static void a_relaxed_optimum_needs_its_proof(void **state)
{
    (void)state;
    static const struct lp_claim weak = {
        .outcome = WF_OUTCOME_OPTIMAL, .value = 1.5, .x = {0, 1.5}, .dual = 0.5};
    const struct lp_claim claims[CALLS_MOST] = {weak, weak, weak, weak, weak, weak, weak, weak};
    struct wf_model *m = model();
    struct wf_solver_options o = {.relax = true, .cutoff = nan("")};
    struct wf_solution s;
    memset(&script, 0, sizeof script);
    script.lp = claims;
    assert_int_equal(wf_solver_run(m, &o, &s, NULL), WF_OK);
    assert_int_equal(s.outcome, WF_OUTCOME_FEASIBLE);
    assert_close(s.value, 1.5, 1e-12);
    assert_close(s.bound, 0.75, 1e-12);
    assert_null(s.dual);
    wf_solution_clear(&s);
    wf_model_free(m);
}

int main(void)
{
    const struct CMUnitTest tests[] = {cmocka_unit_test(a_relaxed_optimum_needs_its_proof)};
    struct CMUnitTest lps[COUNT_OF(lp_cases)], searches[COUNT_OF(search_cases)];
    for (size_t i = 0; i < COUNT_OF(lp_cases); i++)
        lps[i] = (struct CMUnitTest){
            .name = lp_cases[i].name, .test_func = one_lp_case, .initial_state = &lp_cases[i]};
    for (size_t i = 0; i < COUNT_OF(search_cases); i++)
        searches[i] = (struct CMUnitTest){.name = search_cases[i].name,
                                          .test_func = one_search_case,
                                          .initial_state = &search_cases[i]};
    int failed = cmocka_run_group_tests_name("claims", tests, NULL, NULL);
    failed += _cmocka_run_group_tests("claims of a simplex", lps, COUNT_OF(lps), NULL, NULL);
    failed +=
        _cmocka_run_group_tests("claims of a search", searches, COUNT_OF(searches), NULL, NULL);
    return failed != 0;
}
