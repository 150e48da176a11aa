/*
 * lp.c: linear programs kept open, each answer checked.
 *
 * GLPK's simplex now and then (once in 10^4 solves of a grist) calls a program infeasible that is
 * not, or a point optimal that misses a row. So what the engine says is believed when its own
 * numbers prove it; else it is asked another way. Only the last way is believed in any case.
 *
 * A grist has a row a lot, its greatest share, of which a handful matters. So the engine is told of
 * a row with two terms only when a point misses it.
 */
#include "solve/lp.h"

#include "base/alloc.h"
#include "base/try.h"

#include <math.h>
#include <string.h>
#include <time.h>

/* Rows that the engine is told of x columns of a program that takes twice as long as a small one
 * (measured). */
#define LARGE  5000
#define MISSED 1e-9 /* of a row's bound: what an engine might make of it itself */

struct wf_lp {
    struct wf_program program;
    struct wf_engine *engine;
    bool senseless;        /* a change made no sense */
    double limit;          /* s on the clock of now(); +inf: none */
    int *at;               /* of each row: the engine's; -1: it is not told of it */
    int *told, told_count; /* rows that it is told of, as it counts them */
    double *claimed;       /* their duals; room for one a row */
    double *dual;          /* room for one a row */
    double *x, *reduced;   /* room for one a column */
};

/* ---- Life ------------------------------------------------------------------------------------ */

static bool allocate(struct wf_lp *lp, const struct wf_model *m)
{
    size_t rows = (size_t)wf_model_rows(m), columns = (size_t)wf_model_columns(m);
    lp->at = wf_alloc(rows, sizeof *lp->at);
    lp->told = wf_alloc(rows, sizeof *lp->told);
    lp->claimed = wf_alloc(rows, sizeof *lp->claimed);
    lp->dual = wf_alloc(rows, sizeof *lp->dual);
    lp->x = wf_alloc(columns, sizeof *lp->x);
    lp->reduced = wf_alloc(columns, sizeof *lp->reduced);
    return lp->at && lp->told && lp->claimed && lp->dual && lp->x && lp->reduced &&
           wf_program_init(&lp->program, m);
}

/* Whether a row may wait until it is missed: nothing at all would meet it. */
static bool may_wait(const struct wf_program *p, int row)
{
    return p->start[row + 1] - p->start[row] == 2 && p->row_low[row] <= 0 &&
           p->row_high[row] >= 0 && isinf(p->row_low[row]) != isinf(p->row_high[row]);
}

static void tell_first(struct wf_lp *lp)
{
    for (int i = 0; i < lp->program.rows; i++) {
        lp->at[i] = may_wait(&lp->program, i) ? -1 : lp->told_count;
        if (lp->at[i] >= 0)
            lp->told[lp->told_count++] = i;
    }
}

enum wf_status wf_lp_open(const struct wf_model *m, struct wf_lp **out, struct wf_error *e)
{
    *out = NULL;
    WF_TRY(wf_model_check(m, e));
    enum wf_status status = WF_MEMORY;
    struct wf_lp *lp = wf_alloc(1, sizeof *lp);
    if (!lp || !allocate(lp, m)) {
        wf_error_add(e, WF_MEMORY, "out of memory");
        goto done;
    }
    lp->limit = HUGE_VAL;
    tell_first(lp);
    WF_TRY_GOTO(wf_engine_open(m, &lp->program, lp->told, lp->told_count, &lp->engine, e));
    *out = lp;
    lp = NULL;
done:
    wf_lp_close(lp);
    return status;
}

void wf_lp_close(struct wf_lp *lp)
{
    if (!lp)
        return;
    wf_engine_close(lp->engine);
    wf_program_clear(&lp->program);
    wf_free(lp->at);
    wf_free(lp->told);
    wf_free(lp->claimed);
    wf_free(lp->dual);
    wf_free(lp->x);
    wf_free(lp->reduced);
    wf_free(lp);
}

/* ---- Time ------------------------------------------------------------------------------------ */

static double now(void)
{
    struct timespec t;
    clock_gettime(CLOCK_MONOTONIC, &t);
    return (double)t.tv_sec + 1e-9 * (double)t.tv_nsec;
}

void wf_lp_limit(struct wf_lp *lp, double seconds)
{
    lp->limit = seconds > 0 ? now() + seconds : HUGE_VAL;
}

long wf_lp_work(const struct wf_lp *lp)
{
    return 1 + (long)lp->told_count * lp->program.columns / LARGE;
}

static double seconds_left(const struct wf_lp *lp)
{
    return isinf(lp->limit) ? HUGE_VAL : fmax(0, lp->limit - now());
}

/* ---- Changes --------------------------------------------------------------------------------- */

/* The engine takes no nonsense; a lost one takes nothing. */
static bool sensible(struct wf_lp *lp, bool there, double low, double high)
{
    bool ok = there && low <= high && low < HUGE_VAL && high > -HUGE_VAL;
    lp->senseless |= !ok;
    return ok && wf_engine_alive(lp->engine);
}

void wf_lp_bounds(struct wf_lp *lp, int column, double low, double high)
{
    struct wf_program *p = &lp->program;
    if (!sensible(lp, column >= 0 && column < p->columns, low, high) ||
        (low == p->low[column] && high == p->high[column]))
        return;
    p->low[column] = low;
    p->high[column] = high;
    wf_engine_bounds(lp->engine, column, low, high);
}

void wf_lp_row(struct wf_lp *lp, int row, double low, double high)
{
    struct wf_program *p = &lp->program;
    if (!sensible(lp, row >= 0 && row < p->rows, low, high) ||
        (low == p->row_low[row] && high == p->row_high[row]))
        return;
    p->row_low[row] = low;
    p->row_high[row] = high;
    if (lp->at[row] >= 0)
        wf_engine_row(lp->engine, lp->at[row], low, high);
}

void wf_lp_cost(struct wf_lp *lp, int column, double cost)
{
    struct wf_program *p = &lp->program;
    if (!sensible(lp, column >= 0 && column < p->columns, cost, cost) || cost == p->cost[column])
        return;
    p->cost[column] = cost;
    wf_engine_cost(lp->engine, column, cost);
}

enum wf_status wf_lp_terms(struct wf_lp *lp, int row, const double *values, struct wf_error *e)
{
    struct wf_program *p = &lp->program;
    if (!sensible(lp, row >= 0 && row < p->rows, 0, 0))
        return WF_OK; /* told by the next solve */
    for (int k = p->start[row]; k < p->start[row + 1]; k++)
        p->value[k] = values[p->index[k]];
    return lp->at[row] < 0 ? WF_OK : wf_engine_terms(lp->engine, lp->at[row], p, row, e);
}

/* ---- Rows that wait -------------------------------------------------------------------------- */

static enum wf_status tell(struct wf_lp *lp, int row, struct wf_error *e)
{
    WF_TRY(wf_engine_terms(lp->engine, lp->told_count, &lp->program, row, e));
    lp->at[row] = lp->told_count;
    lp->told[lp->told_count++] = row;
    return WF_OK;
}

static bool misses(const struct wf_program *p, int row, const double *x)
{
    double sum = 0;
    for (int k = p->start[row]; k < p->start[row + 1]; k++)
        sum += p->value[k] * x[p->index[k]];
    return sum < p->row_low[row] - MISSED * fmax(1, fabs(p->row_low[row])) ||
           sum > p->row_high[row] + MISSED * fmax(1, fabs(p->row_high[row]));
}

/* Tells the engine of the rows that x misses; x NULL: of all. */
static enum wf_status tell_missed(struct wf_lp *lp, const double *x, bool *any, struct wf_error *e)
{
    *any = false;
    for (int i = 0; i < lp->program.rows; i++) {
        if (lp->at[i] >= 0 || (x && !misses(&lp->program, i, x)))
            continue;
        *any = true;
        WF_TRY(tell(lp, i, e));
    }
    return WF_OK;
}

/* ---- Answers --------------------------------------------------------------------------------- */

/* An optimum is proved by its point and its duals. */
static bool check_optimum(struct wf_lp *lp, const struct wf_engine_simplex *s,
                          struct wf_lp_answer *a)
{
    a->value = fmin(s->value, wf_program_bound(&lp->program, lp->dual, lp->reduced));
    if (a->value >= s->cutoff) {
        a->outcome = WF_OUTCOME_INFEASIBLE;
        return true;
    }
    return s->value - a->value <= WF_SOLVER_TOLERANCE * fmax(1, fabs(s->value)) &&
           wf_program_violation(&lp->program, lp->x) <= WF_SOLVER_TOLERANCE;
}

static bool check_infeasible(struct wf_lp *lp, const struct wf_engine_simplex *s,
                             struct wf_lp_answer *a)
{
    a->value = HUGE_VAL;
    if (!s->at_cutoff)
        return wf_program_refuted(&lp->program, lp->dual, lp->reduced);
    a->value = wf_program_bound(&lp->program, lp->dual, lp->reduced);
    return a->value >= s->cutoff;
}

/* Fills the answer's outcome and value; true where they are proved or need no proof. */
static bool check(struct wf_lp *lp, const struct wf_engine_simplex *s, struct wf_lp_answer *a)
{
    a->outcome = s->outcome;
    a->value = -HUGE_VAL;
    if (s->outcome == WF_OUTCOME_OPTIMAL)
        return check_optimum(lp, s, a);
    if (s->outcome == WF_OUTCOME_INFEASIBLE)
        return check_infeasible(lp, s, a);
    return true;
}

static void copy(double *to, const double *from, int count)
{
    if (to)
        memcpy(to, from, (size_t)count * sizeof *to);
}

/* The gate of all later calls: a lost or a misused program says so. */
static enum wf_status usable(const struct wf_lp *lp, struct wf_error *e)
{
    if (!wf_engine_alive(lp->engine))
        return wf_error_add(e, WF_INTERNAL, "the solver gave up in an earlier call");
    if (lp->senseless)
        return wf_error_add(e, WF_INTERNAL,
                            "a change of the linear program named no column or row of it, or "
                            "bounds that cross");
    return WF_OK;
}

/* One claim, of the program with all its rows. */
static enum wf_status ask(struct wf_lp *lp, struct wf_engine_simplex *s, struct wf_error *e)
{
    bool more = true;
    while (more) {
        s->seconds = seconds_left(lp);
        WF_TRY(wf_engine_simplex(lp->engine, s, e));
        more = false;
        if (s->known && s->outcome == WF_OUTCOME_OPTIMAL)
            WF_TRY(tell_missed(lp, s->x, &more, e));
        if (s->known && s->outcome == WF_OUTCOME_UNBOUNDED)
            WF_TRY(tell_missed(lp, NULL, &more, e));
    }
    for (int i = 0; i < lp->program.rows; i++)
        lp->dual[i] = lp->at[i] >= 0 ? s->dual[lp->at[i]] : 0;
    return WF_OK;
}

enum wf_status wf_lp_solve(struct wf_lp *lp, double cutoff, struct wf_lp_answer *a,
                           struct wf_error *e)
{
    bool settled = false;
    struct wf_engine_simplex s = {.cutoff = cutoff, .x = lp->x, .dual = lp->claimed};
    WF_TRY(usable(lp, e));
    for (s.way = 0; s.way < WF_ENGINE_WAYS && !settled; s.way++) {
        WF_TRY(ask(lp, &s, e));
        settled = s.known && check(lp, &s, a);
    }
    if (!s.known)
        return wf_error_add(e, WF_INTERNAL, "the solver came to no answer");
    if (a->outcome != WF_OUTCOME_OPTIMAL)
        return WF_OK;
    copy(a->x, lp->x, lp->program.columns);
    copy(a->dual, lp->dual, lp->program.rows);
    copy(a->reduced, lp->reduced, lp->program.columns);
    return WF_OK;
}

enum wf_status wf_lp_search(struct wf_lp *lp, struct wf_engine_search *s, struct wf_error *e)
{
    bool any;
    WF_TRY(usable(lp, e));
    WF_TRY(tell_missed(lp, NULL, &any, e));
    s->seconds = seconds_left(lp);
    return wf_engine_search(lp->engine, s, e);
}
