/*
 * solver_glpk.c: the one file that knows GLPK.
 *
 * GLPK aborts the process where its data or its own numbers displease it. Each piece of work that
 * calls it therefore runs under a guard: the error hook frees GLPK's environment, which its manual
 * obliges it to, and jumps back. GLPK keeps one environment a thread, and all problems of the
 * thread go with it; so each lp remembers the serial number of the environment it was made in.
 * Indices are from 1 inside GLPK; they are shifted where a model goes in and numbers come out.
 *
 * A program that uses GLPK itself in the same thread keeps its environment, but loses its hooks,
 * and after an abort its problems.
 */
#include "solve/program.h"
#include "solve/solver_claim.h"

#include "base/alloc.h"
#include "base/try.h"

#include <glpk.h>

#include <float.h>
#include <limits.h>
#include <math.h>
#include <setjmp.h>
#include <string.h>
#include <time.h>

#define SAID_MAX         512  /* bytes kept of what GLPK says of an abort */
#define EXACTNESS        1e-9 /* of bounds and reduced costs: at GLPK's 1e-7, values were 1e-5 off */
#define ITERATIONS_LEAST 1000 /* of one simplex run, before it is taken to cycle ... */
#define ITERATIONS_EACH  50   /* ... and for each row and column */
#define WHOLE            1e-9 /* what misses a whole number by less counts as whole */
#define PROGRESS_EVERY   0.1  /* s */

/* The state of GLPK's own per-thread global. */
static _Thread_local struct {
    unsigned long serial; /* of the environment: one more after each abort */
    int open;             /* lps that live in it */
    bool ours;            /* we made it, so we free it; else the program uses GLPK itself */
} environment;

struct wf_lp {
    glp_prob *p;
    unsigned long serial;      /* of the environment that p belongs to */
    struct wf_program program; /* the same in our own arrays, to check answers with */
    bool senseless;            /* a call made no sense */
    double limit;              /* s on the clock of now(); +inf: none */
    double *dual;              /* room for one a row */
    double *x, *reduced;       /* room for one a column */
    int *index;                /* a row as GLPK takes it: columns + 1 of each */
    double *value;
    jmp_buf back;
    char said[SAID_MAX]; /* by GLPK, of its abort */
    size_t said_length;
};

/* ---- The guard ------------------------------------------------------------------------------- */

static bool alive(const struct wf_lp *lp)
{
    return lp->p && lp->serial == environment.serial;
}

/* Counts an lp into the thread's environment; false: out of memory. */
static bool enter(struct wf_lp *lp)
{
    int made = glp_init_env();
    if (made > 1)
        return false;
    if (made == 0)
        environment.ours = true;
    environment.open++;
    lp->serial = environment.serial;
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
    struct wf_lp *lp = info;
    if (glp_at_error() == 0)
        return 1;
    for (const char *c = text; *c != '\0' && lp->said_length < SAID_MAX - 1; c++)
        lp->said[lp->said_length++] = *c == '\n' ? ' ' : *c;
    lp->said[lp->said_length] = '\0';
    return 1;
}

static void on_abort(void *info)
{
    struct wf_lp *lp = info;
    glp_free_env();
    environment.serial++;
    environment.open = 0;
    environment.ours = false;
    longjmp(lp->back, 1);
}

/* Does the work; nothing local changes between setjmp and longjmp. */
static enum wf_status guarded(struct wf_lp *lp, void (*work)(struct wf_lp *, void *), void *data,
                              struct wf_error *e)
{
    lp->said_length = 0;
    lp->said[0] = '\0';
    glp_term_hook(on_text, lp);
    glp_error_hook(on_abort, lp);
    if (setjmp(lp->back) != 0)
        return wf_error_add(e, WF_INTERNAL, "the solver gave up: %s", lp->said);
    work(lp, data);
    glp_error_hook(NULL, NULL);
    glp_term_hook(NULL, NULL);
    return WF_OK;
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

/* What is left of the limit as GLPK takes it, in ms. */
static int milliseconds_left(const struct wf_lp *lp)
{
    if (isinf(lp->limit))
        return INT_MAX;
    return (int)fmin(fmax(0, ceil(1e3 * (lp->limit - now()))), INT_MAX);
}

/* ---- From a model to GLPK -------------------------------------------------------------------- */

static int bound_type(double low, double high)
{
    if (low == high)
        return GLP_FX;
    if (isfinite(low))
        return isfinite(high) ? GLP_DB : GLP_LO;
    return isfinite(high) ? GLP_UP : GLP_FR;
}

static void put_bounds(struct wf_lp *lp, int column)
{
    double low = lp->program.low[column], high = lp->program.high[column];
    glp_set_col_bnds(lp->p, column + 1, bound_type(low, high), low, high);
}

static void put_row_bounds(struct wf_lp *lp, int row)
{
    double low = lp->program.row_low[row], high = lp->program.row_high[row];
    glp_set_row_bnds(lp->p, row + 1, bound_type(low, high), low, high);
}

static void load_rows(struct wf_lp *lp)
{
    const struct wf_program *p = &lp->program;
    glp_add_rows(lp->p, p->rows);
    for (int i = 0; i < p->rows; i++) {
        int count = p->start[i + 1] - p->start[i];
        for (int k = 0; k < count; k++) {
            lp->index[k + 1] = p->index[p->start[i] + k] + 1;
            lp->value[k + 1] = p->value[p->start[i] + k];
        }
        glp_set_mat_row(lp->p, i + 1, count, lp->index, lp->value);
        put_row_bounds(lp, i);
    }
}

/* A column's kind resets its bounds, so it goes first. */
static void load_columns(struct wf_lp *lp, const struct wf_model *m)
{
    const struct wf_program *p = &lp->program;
    glp_add_cols(lp->p, p->columns);
    for (int j = 0; j < p->columns; j++) {
        glp_set_col_kind(lp->p, j + 1, wf_model_integer(m, j) ? GLP_IV : GLP_CV);
        put_bounds(lp, j);
        glp_set_obj_coef(lp->p, j + 1, p->cost[j]);
    }
    glp_set_obj_coef(lp->p, 0, p->offset);
}

static void load(struct wf_lp *lp, void *data)
{
    const struct wf_model *m = *(const struct wf_model **)data;
    lp->p = glp_create_prob();
    load_columns(lp, m);
    load_rows(lp);
    glp_scale_prob(lp->p, GLP_SF_AUTO);
    glp_adv_basis(lp->p, 0);
}

static bool allocate(struct wf_lp *lp, const struct wf_model *m)
{
    size_t rows = (size_t)wf_model_rows(m), columns = (size_t)wf_model_columns(m);
    lp->dual = wf_alloc(rows, sizeof *lp->dual);
    lp->x = wf_alloc(columns, sizeof *lp->x);
    lp->reduced = wf_alloc(columns, sizeof *lp->reduced);
    lp->index = wf_alloc(columns + 1, sizeof *lp->index);
    lp->value = wf_alloc(columns + 1, sizeof *lp->value);
    return lp->dual && lp->x && lp->reduced && lp->index && lp->value &&
           wf_program_init(&lp->program, m) && enter(lp);
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
    WF_TRY_GOTO(guarded(lp, load, &m, e));
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
    if (alive(lp)) {
        glp_delete_prob(lp->p);
        leave();
    }
    wf_program_clear(&lp->program);
    wf_free(lp->dual);
    wf_free(lp->x);
    wf_free(lp->reduced);
    wf_free(lp->index);
    wf_free(lp->value);
    wf_free(lp);
}

/* ---- Changes --------------------------------------------------------------------------------- */

/* GLPK aborts on indices that are not there. */
static bool sensible(struct wf_lp *lp, bool there, double low, double high)
{
    bool ok = there && low <= high && low < HUGE_VAL && high > -HUGE_VAL;
    lp->senseless |= !ok;
    return ok && alive(lp);
}

void wf_lp_bounds(struct wf_lp *lp, int column, double low, double high)
{
    struct wf_program *p = &lp->program;
    if (!sensible(lp, column >= 0 && column < p->columns, low, high) ||
        (low == p->low[column] && high == p->high[column]))
        return;
    p->low[column] = low;
    p->high[column] = high;
    put_bounds(lp, column);
}

void wf_lp_row(struct wf_lp *lp, int row, double low, double high)
{
    struct wf_program *p = &lp->program;
    if (!sensible(lp, row >= 0 && row < p->rows, low, high) ||
        (low == p->row_low[row] && high == p->row_high[row]))
        return;
    p->row_low[row] = low;
    p->row_high[row] = high;
    put_row_bounds(lp, row);
}

void wf_lp_cost(struct wf_lp *lp, int column, double cost)
{
    struct wf_program *p = &lp->program;
    if (!sensible(lp, column >= 0 && column < p->columns, cost, cost) || cost == p->cost[column])
        return;
    p->cost[column] = cost;
    glp_set_obj_coef(lp->p, column + 1, cost);
}

/* ---- Linear programs ------------------------------------------------------------------------- */

/*
 * GLPK's simplex now and then (once in 10^4 solves of a grist) calls a program infeasible that is
 * not, or a point optimal that misses a row. So what it says is believed when its own numbers prove
 * it; else the next attempt is made. Only the last is believed in any case.
 */
static const struct attempt {
    int method;
    int presolve;
    bool afresh; /* from the basis of all rows, not from where the last solve ended */
} attempts[] = {
    {GLP_DUALP, GLP_OFF, false},
    {GLP_DUALP, GLP_OFF, true},
    {GLP_PRIMAL, GLP_OFF, true},
    {GLP_PRIMAL, GLP_ON, true},
};

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

/* A solve: what is asked, and what GLPK made of it. */
struct simplex {
    double cutoff;
    struct wf_lp_answer *answer;
    int code, status;
    const struct verdict *verdict; /* NULL: none */
};

static void run_simplex(struct wf_lp *lp, const struct attempt *how, struct simplex *s)
{
    glp_smcp o;
    glp_init_smcp(&o);
    o.msg_lev = GLP_MSG_OFF;
    o.meth = how->method;
    o.presolve = how->presolve;
    o.tm_lim = milliseconds_left(lp);
    o.tol_bnd = o.tol_dj = EXACTNESS;
    o.it_lim = ITERATIONS_LEAST + ITERATIONS_EACH * (lp->program.rows + lp->program.columns);
    o.obj_ul = isinf(s->cutoff) ? DBL_MAX : s->cutoff;
    if (how->afresh)
        glp_std_basis(lp->p);
    s->code = glp_simplex(lp->p, &o);
    s->status = glp_get_status(lp->p);
    s->verdict = verdict_on(simplex_verdicts, WF_COUNT_OF(simplex_verdicts), s->code, s->status);
}

/* The bound that GLPK's duals prove, and with it lp->dual and lp->reduced. */
static double proved_bound(struct wf_lp *lp)
{
    for (int i = 0; i < lp->program.rows; i++)
        lp->dual[i] = glp_get_row_dual(lp->p, i + 1);
    return wf_program_bound(&lp->program, lp->dual, lp->reduced);
}

/* +1: the variable is below its lower bound in GLPK's basis, -1: above its upper one. */
static double side_of(const struct wf_lp *lp, int variable)
{
    int column = variable - lp->program.rows;
    if (column > 0)
        return glp_get_col_prim(lp->p, column) < lp->program.low[column - 1] ? 1 : -1;
    return glp_get_row_prim(lp->p, variable) < lp->program.row_low[variable - 1] ? 1 : -1;
}

/* The row of GLPK's tableau that cannot be met, as duals: its variable, rows first, less what the
 * variables outside the basis can make of it. False: GLPK names none. */
static bool read_ray(struct wf_lp *lp)
{
    int rows = lp->program.rows, variable = glp_get_unbnd_ray(lp->p);
    if (variable == 0 || !glp_bf_exists(lp->p))
        return false;
    if ((variable <= rows ? glp_get_row_stat(lp->p, variable)
                          : glp_get_col_stat(lp->p, variable - rows)) != GLP_BS)
        return false;
    double side = side_of(lp, variable);
    int count = glp_eval_tab_row(lp->p, variable, lp->index, lp->value);
    for (int i = 0; i < rows; i++)
        lp->dual[i] = i + 1 == variable ? side : 0;
    for (int k = 1; k <= count; k++)
        if (lp->index[k] <= rows)
            lp->dual[lp->index[k] - 1] = -side * lp->value[k];
    return true;
}

/* An optimum is proved by its point and its duals. */
static bool settle_optimum(struct wf_lp *lp, double cutoff, struct wf_lp_answer *a)
{
    double value = glp_get_obj_val(lp->p);
    a->value = fmin(value, proved_bound(lp));
    if (a->value >= cutoff) {
        a->outcome = WF_OUTCOME_INFEASIBLE;
        return true;
    }
    for (int j = 0; j < lp->program.columns; j++)
        lp->x[j] = glp_get_col_prim(lp->p, j + 1);
    return value - a->value <= WF_SOLVER_TOLERANCE * fmax(1, fabs(value)) &&
           wf_program_violation(&lp->program, lp->x) <= WF_SOLVER_TOLERANCE;
}

/* Fills the answer's outcome and value; true where they are proved. */
static bool settle(struct wf_lp *lp, const struct simplex *s)
{
    struct wf_lp_answer *a = s->answer;
    a->outcome = s->verdict->outcome;
    if (a->outcome == WF_OUTCOME_OPTIMAL)
        return settle_optimum(lp, s->cutoff, a);
    if (s->code == GLP_EOBJUL) {
        a->value = proved_bound(lp);
        return a->value >= s->cutoff;
    }
    a->value = a->outcome == WF_OUTCOME_INFEASIBLE ? HUGE_VAL : -HUGE_VAL;
    return a->outcome != WF_OUTCOME_INFEASIBLE ||
           (read_ray(lp) && wf_program_refuted(&lp->program, lp->dual, lp->reduced));
}

static void copy(double *to, const double *from, int count)
{
    if (to)
        memcpy(to, from, (size_t)count * sizeof *to);
}

static void solve(struct wf_lp *lp, void *data)
{
    struct simplex *s = data;
    bool settled = false;
    for (size_t i = 0; i < WF_COUNT_OF(attempts) && !settled; i++) {
        run_simplex(lp, &attempts[i], s);
        settled = s->verdict && settle(lp, s);
    }
    if (!s->verdict || s->answer->outcome != WF_OUTCOME_OPTIMAL)
        return;
    copy(s->answer->x, lp->x, lp->program.columns);
    copy(s->answer->dual, lp->dual, lp->program.rows);
    copy(s->answer->reduced, lp->reduced, lp->program.columns);
}

/* The gate of all later calls: a lost or a misused lp says so. */
static enum wf_status usable(const struct wf_lp *lp, struct wf_error *e)
{
    if (!alive(lp))
        return wf_error_add(e, WF_INTERNAL, "the solver gave up in an earlier call");
    if (lp->senseless)
        return wf_error_add(e, WF_INTERNAL,
                            "a change of the linear program named no column or row of it, or "
                            "bounds that cross");
    return WF_OK;
}

enum wf_status wf_lp_solve(struct wf_lp *lp, double cutoff, struct wf_lp_answer *a,
                           struct wf_error *e)
{
    struct simplex s = {.cutoff = cutoff, .answer = a};
    WF_TRY(usable(lp, e));
    WF_TRY(guarded(lp, solve, &s, e));
    if (!s.verdict)
        return wf_error_add(e, WF_INTERNAL, "the solver came to no answer (code %d, status %d)",
                            s.code, s.status);
    return WF_OK;
}

/* ---- Branch and bound ------------------------------------------------------------------------ */

struct search {
    const struct wf_lp *lp;
    const struct wf_solver_options *o;
    bool careful;
    double cutoff;
    struct wf_claim *claim;
    double told; /* s, of the last progress */
    int code, status;
    const struct verdict *verdict; /* NULL: none */
};

static bool close_enough(double value, double bound, double gap)
{
    return gap > 0 && value - bound <= gap * fabs(value);
}

static void tell(struct search *s, bool better, double value)
{
    double t = now();
    if (!s->o->progress || (!better && t - s->told < PROGRESS_EVERY))
        return;
    s->told = t;
    s->o->progress(s->o->progress_data, value, fmin(s->claim->bound, value));
}

/* Only here can the proved bound be read; each one seen holds for all points. The limits of time
 * and gap are ours as well: GLPK would count the time twice, and stop at a gap whose bound is not
 * told. */
static void on_node(glp_tree *tree, void *info)
{
    struct search *s = info;
    glp_prob *p = glp_ios_get_prob(tree);
    double value = glp_mip_status(p) == GLP_FEAS ? glp_mip_obj_val(p) : nan("");
    int best = glp_ios_best_node(tree);
    if (best > 0 && glp_ios_node_bound(tree, best) > -DBL_MAX)
        s->claim->bound = fmax(s->claim->bound, glp_ios_node_bound(tree, best));
    tell(s, glp_ios_reason(tree) == GLP_IBINGO, value);
    if ((s->o->cancel && *s->o->cancel) || milliseconds_left(s->lp) == 0 ||
        close_enough(value, s->claim->bound, s->o->gap))
        glp_ios_terminate(tree);
}

/* The last row: the cost is at most the cutoff. */
static void add_cutoff_row(struct wf_lp *lp, double cutoff)
{
    int row = glp_add_rows(lp->p, 1), count = 0;
    for (int j = 1; j <= lp->program.columns; j++) {
        if (glp_get_obj_coef(lp->p, j) == 0)
            continue;
        lp->index[++count] = j;
        lp->value[count] = glp_get_obj_coef(lp->p, j);
    }
    glp_set_mat_row(lp->p, row, count, lp->index, lp->value);
    glp_set_row_bnds(lp->p, row, GLP_UP, 0, cutoff - glp_get_obj_coef(lp->p, 0));
}

static void remove_cutoff_row(struct wf_lp *lp)
{
    const int last[] = {0, glp_get_num_rows(lp->p)}; /* GLPK counts from 1 */
    glp_del_rows(lp->p, 1, last);
}

static void run_search(struct wf_lp *lp, struct search *s)
{
    glp_iocp o;
    glp_init_iocp(&o);
    o.msg_lev = GLP_MSG_OFF;
    o.tm_lim = milliseconds_left(lp);
    o.cb_func = on_node;
    o.cb_info = s;
    o.tol_int = WHOLE;
    o.presolve = s->careful ? GLP_OFF : GLP_ON;
    o.pp_tech = GLP_PP_ROOT;
    o.tol_obj = EXACTNESS;
    s->code = glp_intopt(lp->p, &o);
    s->status = glp_mip_status(lp->p);
    s->verdict = verdict_on(search_verdicts, WF_COUNT_OF(search_verdicts), s->code, s->status);
}

/* Without presolve the relaxation must be solved before; its other ends are the search's. */
static bool root_is_optimal(struct wf_lp *lp, struct search *s)
{
    struct simplex root = {.cutoff = HUGE_VAL};
    run_simplex(lp, &attempts[1], &root);
    s->code = root.code;
    s->verdict = root.verdict;
    return root.verdict && root.verdict->outcome == WF_OUTCOME_OPTIMAL;
}

static void search(struct wf_lp *lp, void *data)
{
    struct search *s = data;
    bool cut = isfinite(s->cutoff);
    if (cut)
        add_cutoff_row(lp, s->cutoff);
    if (!s->careful || root_is_optimal(lp, s))
        run_search(lp, s);
    if (s->status == GLP_OPT || s->status == GLP_FEAS)
        for (int j = 0; j < lp->program.columns; j++)
            s->claim->x[j] = glp_mip_col_val(lp->p, j + 1);
    if (s->status == GLP_OPT)
        s->claim->bound = glp_mip_obj_val(lp->p);
    if (cut)
        remove_cutoff_row(lp);
}

enum wf_status wf_lp_search(struct wf_lp *lp, const struct wf_solver_options *o, bool careful,
                            double cutoff, struct wf_claim *c, struct wf_error *e)
{
    struct search s = {
        .lp = lp, .o = o, .careful = careful, .cutoff = cutoff, .claim = c, .told = now()};
    c->bound = -HUGE_VAL;
    WF_TRY(usable(lp, e));
    WF_TRY(guarded(lp, search, &s, e));
    if (!s.verdict)
        return wf_error_add(e, WF_INTERNAL, "the solver came to no answer (code %d, status %d)",
                            s.code, s.status);
    c->outcome = s.verdict->outcome;
    if (c->outcome == WF_OUTCOME_INFEASIBLE)
        c->bound = cutoff;
    return WF_OK;
}
