/*
 * solver.c: runs the solver and believes nothing that it says before it has been recomputed from
 * the model: points, values, bounds, duals.
 */
#include "solve/lp.h"

#include "base/alloc.h"
#include "base/try.h"

#include <math.h>
#include <string.h>

#define WHOLE_AT_ROOT 1e-9 /* a relaxed optimum this nearly whole needs no search */

struct run {
    const struct wf_model *m;
    const struct wf_solver_options *o;
    struct wf_solution *out;
    bool careful;  /* the second try */
    double cutoff; /* values of interest are below; +inf: all */
    struct wf_lp *lp;
    double *x, *reduced; /* room for one a column */
    double *dual;        /* room for one a row */
};

static double tolerance(double value)
{
    return WF_SOLVER_TOLERANCE * fmax(1, fabs(value));
}

/* ---- Points ---------------------------------------------------------------------------------- */

/* Whole columns made exactly whole, and none outside its bounds by the solver's tolerance. */
static void tidy(const struct run *r, double *x)
{
    for (int j = 0; j < wf_model_columns(r->m); j++) {
        if (!r->o->relax && wf_model_integer(r->m, j))
            x[j] = round(x[j]);
        double low = wf_model_low(r->m, j), high = wf_model_high(r->m, j);
        if (x[j] < low && low - x[j] <= tolerance(low))
            x[j] = low;
        if (x[j] > high && x[j] - high <= tolerance(high))
            x[j] = high;
        x[j] += 0.0; /* no negative zeros */
    }
}

static double violation(const struct run *r, const double *x, int *row)
{
    return r->o->relax ? wf_model_violation_relaxed(r->m, x, row)
                       : wf_model_violation(r->m, x, row);
}

static bool holds(const struct run *r, const double *x)
{
    return violation(r, x, NULL) <= WF_SOLVER_TOLERANCE;
}

static bool nearly_whole(const struct run *r, const double *x)
{
    for (int j = 0; j < wf_model_columns(r->m); j++)
        if (wf_model_integer(r->m, j) && !(fabs(x[j] - round(x[j])) <= WHOLE_AT_ROOT))
            return false;
    return true;
}

/* Solves the other columns anew with the whole ones fixed as they were rounded. */
static enum wf_status repair(struct run *r, struct wf_error *e)
{
    struct wf_lp_answer a = {.x = r->x};
    wf_lp_limit(r->lp, 0);
    for (int j = 0; j < wf_model_columns(r->m); j++)
        if (wf_model_integer(r->m, j))
            wf_lp_bounds(r->lp, j, r->x[j], r->x[j]);
    enum wf_status status = wf_lp_solve(r->lp, HUGE_VAL, &a, e);
    for (int j = 0; j < wf_model_columns(r->m); j++)
        wf_lp_bounds(r->lp, j, wf_model_low(r->m, j), wf_model_high(r->m, j));
    wf_lp_limit(r->lp, r->o->seconds);
    tidy(r, r->x);
    return status;
}

/* ---- Conclusions ----------------------------------------------------------------------------- */

static enum wf_status without_point(struct run *r, enum wf_outcome outcome, double bound)
{
    r->out->outcome = outcome;
    r->out->bound = bound;
    return WF_OK;
}

static enum wf_status refuse_point(const struct run *r, struct wf_error *e)
{
    int row;
    double worst = violation(r, r->x, &row);
    return wf_error_add(e, WF_INTERNAL, "the solver's optimum misses %s by %g",
                        row < 0 ? "a bound or a whole number" : wf_model_row_label(r->m, row),
                        worst);
}

/* A point that holds is the answer; how good it is follows from its own value and the bound, not
 * from what the solver calls it. */
static enum wf_status with_point(struct run *r, bool optimal, double bound, struct wf_error *e)
{
    double value = wf_model_value(r->m, r->x);
    bool proved = value - bound <= r->o->gap * fabs(value) + tolerance(value);
    bool absurd = !(bound - value <= tolerance(value));
    if (absurd || (optimal && !proved && !r->careful))
        return wf_error_add(e, WF_INTERNAL, "the solver's bound is %.9g, its point's value %.9g",
                            bound, value);
    r->out->outcome = proved ? WF_OUTCOME_OPTIMAL : WF_OUTCOME_FEASIBLE;
    r->out->value = value;
    r->out->bound = fmin(bound, value);
    r->out->x = r->x;
    r->x = NULL;
    return WF_OK;
}

static enum wf_status conclude_relaxed(struct run *r, double bound, struct wf_error *e)
{
    tidy(r, r->x);
    if (!holds(r, r->x))
        return refuse_point(r, e);
    WF_TRY(with_point(r, true, bound, e));
    if (r->out->outcome != WF_OUTCOME_OPTIMAL)
        return WF_OK;
    r->out->dual = r->dual;
    r->out->reduced = r->reduced;
    r->dual = r->reduced = NULL;
    return WF_OK;
}

static enum wf_status conclude_claim(struct run *r, const struct wf_engine_search *c,
                                     struct wf_error *e)
{
    bool optimal = c->outcome == WF_OUTCOME_OPTIMAL;
    if (!optimal && c->outcome != WF_OUTCOME_FEASIBLE)
        return without_point(r, c->outcome, c->bound);
    tidy(r, r->x);
    if (!holds(r, r->x))
        WF_TRY(repair(r, e));
    if (!holds(r, r->x))
        return optimal ? refuse_point(r, e) : without_point(r, WF_OUTCOME_UNKNOWN, c->bound);
    if (wf_model_value(r->m, r->x) >= r->cutoff)
        return without_point(r, optimal ? WF_OUTCOME_INFEASIBLE : WF_OUTCOME_UNKNOWN, c->bound);
    return with_point(r, optimal, c->bound, e);
}

/* ---- The way --------------------------------------------------------------------------------- */

static bool has_integers(const struct wf_model *m)
{
    for (int j = 0; j < wf_model_columns(m); j++)
        if (wf_model_integer(m, j))
            return true;
    return false;
}

/* An unbounded relaxation leaves open whether there is a point at all. If there is one the model is
 * unbounded too: whole columns have finite bounds, so the way down changes none of them. */
static enum wf_status unbounded(struct run *r, struct wf_error *e)
{
    struct wf_solver_options any = *r->o;
    struct wf_solution found = {0};
    if (r->o->relax || !has_integers(r->m))
        return without_point(r, WF_OUTCOME_UNBOUNDED, -HUGE_VAL);
    struct wf_model *feasible = wf_model_copy(r->m);
    if (!feasible)
        return wf_error_add(e, WF_MEMORY, "out of memory");
    wf_model_clear_costs(feasible);
    any.cutoff = nan("");
    enum wf_status status = wf_solver_run(feasible, &any, &found, e);
    if (status == WF_OK && found.x)
        without_point(r, WF_OUTCOME_UNBOUNDED, -HUGE_VAL);
    else if (status == WF_OK)
        without_point(r, found.outcome,
                      found.outcome == WF_OUTCOME_INFEASIBLE ? HUGE_VAL : -HUGE_VAL);
    wf_solution_clear(&found);
    wf_model_free(feasible);
    return status;
}

static enum wf_status branch_and_bound(struct run *r, double root, struct wf_error *e)
{
    struct wf_engine_search c = {.options = r->o,
                                 .careful = r->careful,
                                 .cutoff = r->cutoff,
                                 .outcome = WF_OUTCOME_OPTIMAL,
                                 .bound = root,
                                 .x = r->x};
    if (!nearly_whole(r, r->x)) {
        WF_TRY(wf_lp_search(r->lp, &c, e));
        c.bound = fmin(fmax(c.bound, root), r->cutoff);
    }
    return conclude_claim(r, &c, e);
}

static enum wf_status solve(struct run *r, struct wf_error *e)
{
    struct wf_lp_answer a = {.x = r->x, .dual = r->dual, .reduced = r->reduced};
    wf_lp_limit(r->lp, r->o->seconds);
    WF_TRY(wf_lp_solve(r->lp, r->cutoff, &a, e));
    if (a.outcome == WF_OUTCOME_UNBOUNDED)
        return unbounded(r, e);
    if (a.outcome != WF_OUTCOME_OPTIMAL)
        return without_point(r, a.outcome, a.value);
    return r->o->relax ? conclude_relaxed(r, a.value, e) : branch_and_bound(r, a.value, e);
}

static bool allocate(struct run *r)
{
    size_t rows = (size_t)wf_model_rows(r->m), columns = (size_t)wf_model_columns(r->m);
    r->x = wf_alloc(columns, sizeof *r->x);
    r->reduced = wf_alloc(columns, sizeof *r->reduced);
    r->dual = wf_alloc(rows, sizeof *r->dual);
    return r->x && r->reduced && r->dual;
}

static enum wf_status attempt(struct run *r, struct wf_error *e)
{
    enum wf_status status = WF_MEMORY;
    if (!allocate(r)) {
        wf_error_add(e, WF_MEMORY, "out of memory");
        goto done;
    }
    WF_TRY_GOTO(wf_lp_open(r->m, &r->lp, e));
    status = solve(r, e);
done:
    wf_lp_close(r->lp);
    wf_free(r->x);
    wf_free(r->reduced);
    wf_free(r->dual);
    return status;
}

enum wf_status wf_solver_run(const struct wf_model *m, const struct wf_solver_options *o,
                             struct wf_solution *out, struct wf_error *e)
{
    struct run first = {.m = m, .o = o, .out = out, .cutoff = HUGE_VAL};
    *out =
        (struct wf_solution){.outcome = WF_OUTCOME_UNKNOWN, .value = nan(""), .bound = -HUGE_VAL};
    WF_TRY(wf_model_check(m, e));
    if (!isnan(o->cutoff))
        first.cutoff = o->cutoff - tolerance(o->cutoff);
    struct run second = first;
    second.careful = true;
    if (o->cancel && *o->cancel)
        return WF_OK;
    enum wf_status status = attempt(&first, NULL);
    if (status == WF_INTERNAL)
        return attempt(&second, e);
    return status == WF_OK ? WF_OK : wf_error_add(e, status, "%s", wf_status_text(status));
}

void wf_solution_clear(struct wf_solution *s)
{
    wf_free(s->x);
    wf_free(s->dual);
    wf_free(s->reduced);
    s->x = s->dual = s->reduced = NULL;
}
