/*
 * solver_glpk.c: the engine, and the one file that knows GLPK.
 *
 * GLPK aborts the process where its data or its own numbers displease it. Each piece of work that
 * calls it therefore runs under a guard: the error hook frees GLPK's environment, which its manual
 * obliges it to, and jumps back. GLPK keeps one environment a thread, and all problems of the
 * thread go with it; so each engine remembers the serial number of the environment it was made in.
 * Indices are from 1 inside GLPK; they are shifted where a model goes in and numbers come out.
 *
 * A program that uses GLPK itself in the same thread keeps its environment, but not its hooks, and
 * after an abort not its problems.
 */
#include "solve/clock.h"
#include "solve/engine.h"

#include "base/alloc.h"
#include "base/try.h"

#include <glpk.h>

#include <float.h>
#include <limits.h>
#include <math.h>
#include <setjmp.h>
#include <string.h>

#define SAID_MAX         512  /* bytes kept of what GLPK says of an abort */
#define EXACTNESS        1e-9 /* of bounds and reduced costs: at GLPK's 1e-7 values were 1e-5 off */
#define ITERATIONS_LEAST 1000 /* of one simplex run, before it is taken to cycle ... */
#define ITERATIONS_EACH  50   /* ... and for each row and column */
#define WHOLE            1e-9 /* what misses a whole number by less counts as whole */
#define PROGRESS_EVERY   0.1  /* s */
#define SAME_BOUND       1e-13 /* apart: equal once GLPK has scaled them, at which it would abort */

/* The state of GLPK's own per-thread global. */
static _Thread_local struct {
    unsigned long serial; /* of the environment: one more after each abort */
    int open;             /* engines that live in it */
    bool ours;            /* we made it, so we free it; else the program uses GLPK itself */
} environment;

struct wf_engine {
    glp_prob *p;
    unsigned long serial; /* of the environment that p belongs to */
    int rows, columns;
    int *index; /* a row as GLPK takes it: columns + 1 of each */
    double *value;
    jmp_buf back;
    char said[SAID_MAX]; /* by GLPK, of its abort */
    size_t said_length;
};

/* ---- The guard ------------------------------------------------------------------------------- */

bool wf_engine_alive(const struct wf_engine *g)
{
    return g->p && g->serial == environment.serial;
}

/* Counts an engine into the thread's environment; false: out of memory. */
static bool enter(struct wf_engine *g)
{
    int made = glp_init_env();
    if (made > 1)
        return false;
    if (made == 0)
        environment.ours = true;
    environment.open++;
    g->serial = environment.serial;
    return true;
}

static void leave(void)
{
    if (--environment.open > 0 || !environment.ours)
        return;
    glp_free_env();
    environment.ours = false;
}

/* Keeps what GLPK says of an abort and drops its chatter; returning non-zero keeps both off the
 * terminal. */
static int on_text(void *info, const char *text)
{
    struct wf_engine *g = info;
    if (glp_at_error() == 0)
        return 1;
    for (const char *c = text; *c != '\0' && g->said_length < SAID_MAX - 1; c++)
        g->said[g->said_length++] = *c == '\n' ? ' ' : *c;
    g->said[g->said_length] = '\0';
    return 1;
}

static void on_abort(void *info)
{
    struct wf_engine *g = info;
    glp_free_env();
    environment.serial++;
    environment.open = 0;
    environment.ours = false;
    longjmp(g->back, 1);
}

static enum wf_status given_up(const struct wf_engine *g, struct wf_error *e)
{
    if (strstr(g->said, "no memory available")) /* its env/alloc.c; nothing else tells */
        return wf_error_add(e, WF_MEMORY, "out of memory");
    return wf_error_add(e, WF_INTERNAL, "the solver gave up: %s", g->said);
}

/* Does the work; nothing local changes between setjmp and longjmp. */
static enum wf_status guarded(struct wf_engine *g, void (*work)(struct wf_engine *, void *),
                              void *data, struct wf_error *e)
{
    g->said[g->said_length = 0] = '\0';
    glp_term_hook(on_text, g);
    glp_error_hook(on_abort, g);
    if (setjmp(g->back) != 0)
        return given_up(g, e);
    work(g, data);
    glp_error_hook(NULL, NULL);
    glp_term_hook(NULL, NULL);
    return WF_OK;
}

/* ---- From a model to GLPK -------------------------------------------------------------------- */

static int bound_type(double low, double high)
{
    if (low == high || (isfinite(low) && high - low <= SAME_BOUND * fmax(1, fabs(low))))
        return GLP_FX;
    if (isfinite(low))
        return isfinite(high) ? GLP_DB : GLP_LO;
    return isfinite(high) ? GLP_UP : GLP_FR;
}

void wf_engine_bounds(struct wf_engine *g, int column, double low, double high)
{
    glp_set_col_bnds(g->p, column + 1, bound_type(low, high), low, high);
}

void wf_engine_row(struct wf_engine *g, int row, double low, double high)
{
    glp_set_row_bnds(g->p, row + 1, bound_type(low, high), low, high);
}

void wf_engine_cost(struct wf_engine *g, int column, double cost)
{
    glp_set_obj_coef(g->p, column + 1, cost);
}

struct loading {
    const struct wf_model *m;
    const struct wf_program *p;
    const int *rows; /* the program's rows for the engine's, from `from` on */
    int from, count;
};

/* A column's kind resets its bounds, so it goes first. */
static void load_columns(struct wf_engine *g, const struct loading *l)
{
    glp_add_cols(g->p, g->columns);
    for (int j = 0; j < g->columns; j++) {
        glp_set_col_kind(g->p, j + 1, wf_model_integer(l->m, j) ? GLP_IV : GLP_CV);
        wf_engine_bounds(g, j, l->p->low[j], l->p->high[j]);
        wf_engine_cost(g, j, l->p->cost[j]);
    }
    glp_set_obj_coef(g->p, 0, l->p->offset);
}

static void load_terms(struct wf_engine *g, int at, const struct wf_program *p, int row)
{
    int count = p->start[row + 1] - p->start[row];
    for (int k = 0; k < count; k++) {
        g->index[k + 1] = p->index[p->start[row] + k] + 1;
        g->value[k + 1] = p->value[p->start[row] + k];
    }
    glp_set_mat_row(g->p, at + 1, count, g->index, g->value);
    wf_engine_row(g, at, p->row_low[row], p->row_high[row]);
}

static void load_rows(struct wf_engine *g, void *data)
{
    const struct loading *l = data;
    if (l->from == g->rows && l->count > 0) {
        glp_add_rows(g->p, l->count);
        g->rows += l->count;
    }
    for (int i = 0; i < l->count; i++)
        load_terms(g, l->from + i, l->p, l->rows[i]);
}

enum wf_status wf_engine_terms(struct wf_engine *g, int at, const struct wf_program *p, int row,
                               struct wf_error *e)
{
    return guarded(g, load_rows, &(struct loading){.p = p, .rows = &row, .from = at, .count = 1},
                   e);
}

static void load(struct wf_engine *g, void *data)
{
    g->p = glp_create_prob();
    load_columns(g, data);
    load_rows(g, data);
    glp_scale_prob(g->p, GLP_SF_AUTO);
    glp_adv_basis(g->p, 0);
}

enum wf_status wf_engine_open(const struct wf_model *m, const struct wf_program *p, const int *rows,
                              int count, struct wf_engine **out, struct wf_error *e)
{
    enum wf_status status = WF_MEMORY;
    struct loading l = {.m = m, .p = p, .rows = rows, .count = count};
    struct wf_engine *g = wf_alloc(1, sizeof *g);
    *out = NULL;
    if (g) {
        g->columns = p->columns;
        g->index = wf_alloc((size_t)p->columns + 1, sizeof *g->index);
        g->value = wf_alloc((size_t)p->columns + 1, sizeof *g->value);
    }
    if (!g || !g->index || !g->value || !enter(g)) {
        wf_error_add(e, WF_MEMORY, "out of memory");
        goto done;
    }
    WF_TRY_GOTO(guarded(g, load, &l, e));
    *out = g;
    g = NULL;
done:
    wf_engine_close(g);
    return status;
}

void wf_engine_close(struct wf_engine *g)
{
    if (!g)
        return;
    if (wf_engine_alive(g)) {
        glp_delete_prob(g->p);
        leave();
    }
    wf_free(g->index);
    wf_free(g->value);
    wf_free(g);
}

/* ---- What GLPK's answers mean ---------------------------------------------------------------- */

struct verdict {
    int code;   /* returned by the call */
    int status; /* of the problem after it */
    enum wf_outcome outcome;
};

#define ANY -1

static const struct verdict simplex_verdicts[] = {
    {0, GLP_OPT, WF_OUTCOME_OPTIMAL},         {0, GLP_NOFEAS, WF_OUTCOME_INFEASIBLE},
    {0, GLP_UNBND, WF_OUTCOME_UNBOUNDED},     {GLP_EOBJUL, ANY, WF_OUTCOME_INFEASIBLE},
    {GLP_ENOPFS, ANY, WF_OUTCOME_INFEASIBLE}, {GLP_ETMLIM, ANY, WF_OUTCOME_UNKNOWN},
};

static const struct verdict search_verdicts[] = {
    {0, GLP_OPT, WF_OUTCOME_OPTIMAL},
    {0, GLP_NOFEAS, WF_OUTCOME_INFEASIBLE},
    {GLP_ENOPFS, GLP_NOFEAS, WF_OUTCOME_INFEASIBLE},
    {GLP_ETMLIM, GLP_UNDEF, WF_OUTCOME_UNKNOWN},
    {GLP_ETMLIM, GLP_FEAS, WF_OUTCOME_FEASIBLE},
    {GLP_ESTOP, GLP_UNDEF, WF_OUTCOME_UNKNOWN},
    {GLP_ESTOP, GLP_FEAS, WF_OUTCOME_FEASIBLE},
};

/* NULL: no answer. */
static const struct verdict *verdict_on(const struct verdict *v, size_t count, int code, int status)
{
    for (size_t i = 0; i < count; i++)
        if (v[i].code == code && (v[i].status == ANY || v[i].status == status))
            return &v[i];
    return NULL;
}

static int milliseconds(double seconds)
{
    return (int)fmin(ceil(1e3 * seconds), INT_MAX);
}

/* ---- Linear programs ------------------------------------------------------------------------- */

static const struct {
    int method;
    int presolve;
    bool afresh; /* from the basis of all rows, not from where the last solve ended */
} ways[] = {
    {GLP_DUALP, GLP_OFF, false},
    {GLP_DUALP, GLP_OFF, true},
    {GLP_PRIMAL, GLP_OFF, true},
    {GLP_PRIMAL, GLP_ON, true},
};
_Static_assert(WF_COUNT_OF(ways) == WF_ENGINE_WAYS, "one row a way");

/* +1: the variable is below its lower bound in GLPK's basis, -1: above its upper one. */
static double side_of(const struct wf_engine *g, int variable)
{
    int column = variable - g->rows;
    if (column > 0)
        return glp_get_col_prim(g->p, column) < glp_get_col_lb(g->p, column) ? 1 : -1;
    return glp_get_row_prim(g->p, variable) < glp_get_row_lb(g->p, variable) ? 1 : -1;
}

static int basis_status(const struct wf_engine *g, int variable)
{
    return variable <= g->rows ? glp_get_row_stat(g->p, variable)
                               : glp_get_col_stat(g->p, variable - g->rows);
}

/* The row of GLPK's tableau that cannot be met, as duals: its variable, rows first, less what the
 * variables outside the basis can make of it. All 0 where GLPK names none. */
static void read_ray(struct wf_engine *g, double *dual)
{
    int variable = glp_get_unbnd_ray(g->p);
    for (int i = 0; i < g->rows; i++)
        dual[i] = 0;
    if (variable == 0 || !glp_bf_exists(g->p) || basis_status(g, variable) != GLP_BS)
        return;
    double side = side_of(g, variable);
    int count = glp_eval_tab_row(g->p, variable, g->index, g->value);
    for (int k = 1; k <= count; k++)
        if (g->index[k] <= g->rows)
            dual[g->index[k] - 1] = -side * g->value[k];
    if (variable <= g->rows)
        dual[variable - 1] = side;
}

static void read_answer(struct wf_engine *g, struct wf_engine_simplex *s)
{
    s->value = glp_get_obj_val(g->p);
    if (s->outcome == WF_OUTCOME_INFEASIBLE && !s->at_cutoff) {
        read_ray(g, s->dual);
        return;
    }
    for (int i = 0; i < g->rows; i++)
        s->dual[i] = glp_get_row_dual(g->p, i + 1);
    if (s->outcome == WF_OUTCOME_OPTIMAL)
        for (int j = 0; j < g->columns; j++)
            s->x[j] = glp_get_col_prim(g->p, j + 1);
}

static const struct verdict *run_simplex(struct wf_engine *g, const struct wf_engine_simplex *s)
{
    glp_smcp o;
    glp_init_smcp(&o);
    o.msg_lev = GLP_MSG_OFF;
    o.meth = ways[s->way].method;
    o.presolve = ways[s->way].presolve;
    o.tm_lim = milliseconds(s->seconds);
    o.tol_bnd = o.tol_dj = EXACTNESS;
    o.it_lim = ITERATIONS_LEAST + ITERATIONS_EACH * (g->rows + g->columns);
    o.obj_ul = isinf(s->cutoff) ? DBL_MAX : s->cutoff;
    if (ways[s->way].afresh)
        glp_std_basis(g->p);
    int code = glp_simplex(g->p, &o);
    return verdict_on(simplex_verdicts, WF_COUNT_OF(simplex_verdicts), code, glp_get_status(g->p));
}

static void simplex(struct wf_engine *g, void *data)
{
    struct wf_engine_simplex *s = data;
    const struct verdict *v = run_simplex(g, s);
    s->known = v != NULL;
    if (!v)
        return;
    s->outcome = v->outcome;
    s->at_cutoff = v->code == GLP_EOBJUL;
    read_answer(g, s);
}

enum wf_status wf_engine_simplex(struct wf_engine *g, struct wf_engine_simplex *s,
                                 struct wf_error *e)
{
    return guarded(g, simplex, s, e);
}

/* ---- Branch and bound ------------------------------------------------------------------------ */

struct search {
    struct wf_engine_search *s;
    double end, told;              /* s by wf_seconds_now: when to stop, and the last progress */
    double best;                   /* value that was told */
    long nodes;                    /* looked at */
    const struct verdict *verdict; /* NULL: none */
};

/* Better points come without notice from GLPK's heuristics, so values are compared. */
static void tell(struct search *h, double value)
{
    double t = wf_seconds_now();
    const struct wf_solver_options *o = h->s->options;
    if (!o->progress || (!(value < h->best) && t - h->told < PROGRESS_EVERY))
        return;
    h->told = t;
    h->best = fmin(h->best, value);
    o->progress(o->progress_data, value, fmin(h->s->bound, value));
}

/* Only here can the proved bound be read; each one seen holds for all points. The limits of time
 * and gap are ours as well: GLPK would count the time twice, and stop at a gap whose bound is not
 * told. */
static void on_node(glp_tree *tree, void *info)
{
    struct search *h = info;
    const struct wf_solver_options *o = h->s->options;
    glp_prob *p = glp_ios_get_prob(tree);
    double value = glp_mip_status(p) == GLP_FEAS ? glp_mip_obj_val(p) : nan("");
    int best = glp_ios_best_node(tree);
    if (best > 0 && glp_ios_node_bound(tree, best) > -DBL_MAX)
        h->s->bound = fmax(h->s->bound, glp_ios_node_bound(tree, best));
    tell(h, value);
    bool close_enough = o->gap > 0 && value - h->s->bound <= o->gap * fabs(value);
    h->nodes += glp_ios_reason(tree) == GLP_ISELECT;
    bool enough = (o->nodes > 0 && h->nodes > o->nodes) || wf_seconds_now() >= h->end;
    if (close_enough || enough || (o->cancel && *o->cancel))
        glp_ios_terminate(tree);
}

/* The last row: the cost is at most the cutoff. */
static void add_cutoff_row(struct wf_engine *g, double cutoff)
{
    int row = glp_add_rows(g->p, 1), count = 0;
    for (int j = 1; j <= g->columns; j++) {
        if (glp_get_obj_coef(g->p, j) == 0)
            continue;
        g->index[++count] = j;
        g->value[count] = glp_get_obj_coef(g->p, j);
    }
    glp_set_mat_row(g->p, row, count, g->index, g->value);
    glp_set_row_bnds(g->p, row, GLP_UP, 0, cutoff - glp_get_obj_coef(g->p, 0));
}

static void remove_cutoff_row(struct wf_engine *g)
{
    const int last[] = {0, g->rows + 1}; /* GLPK counts from 1 */
    glp_del_rows(g->p, 1, last);
}

/* Without presolve the relaxation must be solved before; where it has no optimum that is all. */
static bool prepare(struct wf_engine *g, struct search *h)
{
    const struct wf_engine_simplex afresh = {
        .way = 1, .cutoff = HUGE_VAL, .seconds = h->s->seconds};
    if (!h->s->careful)
        return true;
    h->verdict = run_simplex(g, &afresh);
    return h->verdict && h->verdict->outcome == WF_OUTCOME_OPTIMAL;
}

static void run_search(struct wf_engine *g, struct search *h)
{
    glp_iocp o;
    glp_init_iocp(&o);
    o.msg_lev = GLP_MSG_OFF;
    o.tm_lim = milliseconds(h->s->seconds);
    o.cb_func = on_node;
    o.cb_info = h;
    o.tol_int = WHOLE;
    o.tol_obj = EXACTNESS;
    o.presolve = h->s->careful ? GLP_OFF : GLP_ON;
    o.pp_tech = GLP_PP_ROOT;
    int code = glp_intopt(g->p, &o), status = glp_mip_status(g->p);
    h->verdict = verdict_on(search_verdicts, WF_COUNT_OF(search_verdicts), code, status);
    if (status == GLP_OPT || status == GLP_FEAS)
        for (int j = 0; j < g->columns; j++)
            h->s->x[j] = glp_mip_col_val(g->p, j + 1);
    if (status == GLP_OPT)
        h->s->bound = glp_mip_obj_val(g->p);
}

static void search(struct wf_engine *g, void *data)
{
    struct search *h = data;
    bool cut = isfinite(h->s->cutoff);
    if (cut)
        add_cutoff_row(g, h->s->cutoff);
    if (prepare(g, h))
        run_search(g, h);
    if (cut)
        remove_cutoff_row(g);
}

enum wf_status wf_engine_search(struct wf_engine *g, struct wf_engine_search *s, struct wf_error *e)
{
    double start = wf_seconds_now();
    struct search h = {.s = s, .end = start + s->seconds, .told = start, .best = HUGE_VAL};
    s->bound = -HUGE_VAL;
    WF_TRY(guarded(g, search, &h, e));
    if (!h.verdict)
        return wf_error_add(e, WF_INTERNAL, "the solver came to no answer");
    s->outcome = h.verdict->outcome;
    if (s->outcome == WF_OUTCOME_INFEASIBLE)
        s->bound = s->cutoff;
    return WF_OK;
}
