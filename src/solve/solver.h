/*
 * solver.h: the one interface to a solver of linear and mixed-integer models; no types of any
 * solver.
 *
 * The form and its signs are those of model.h: minimise; a row's dual is the change of the optimal
 * value for one more unit of its active bound; a column's reduced cost is cost - duals . column, so
 * at an optimum it is >= 0 where the column rests at its lower bound.
 *
 * Three things, never mixed: the call's status (enum wf_status), what is known about the model
 * (enum wf_outcome), and whether there is a point (x != NULL). Before the call the model is checked
 * by wf_model_check(); after it the integers are rounded and every row is recomputed from the
 * model: a point that then violates the model by more than WF_SOLVER_TOLERANCE is not a point, and
 * if the solver called it optimal the call fails with WF_INTERNAL.
 */
#ifndef WF_SOLVER_H
#define WF_SOLVER_H

#include "model/model.h"

/* Of rows and bounds as wf_model_violation tells it; of values in units of max(1, |value|). */
#define WF_SOLVER_TOLERANCE 1e-6

enum wf_outcome {
    WF_OUTCOME_OPTIMAL,    /* x is proved, to the gap that was asked for */
    WF_OUTCOME_FEASIBLE,   /* stopped by time, cancel: x is a point, the bound holds */
    WF_OUTCOME_INFEASIBLE, /* proved: no point */
    WF_OUTCOME_UNBOUNDED,
    WF_OUTCOME_UNKNOWN, /* stopped without a point; bound may hold */
    WF_OUTCOME_COUNT
};

struct wf_solver_options {
    bool relax;                  /* ignore that columns are whole */
    double seconds;              /* about; 0: no limit */
    long nodes;                  /* of a search, after which to stop; 0: no limit */
    double gap;                  /* (value - bound) / |value| that will do; 0: prove the optimum */
    double cutoff;               /* only points better than this are of interest; NaN: all */
    const volatile bool *cancel; /* polled; NULL: never */
    /* Told at each better point and now and then between, as the search sees it: value NaN before
     * the first point. It must not call a solver. NULL: none. */
    void (*progress)(void *data, double value, double bound);
    void *progress_data;
};

struct wf_solution {
    enum wf_outcome outcome;
    double *x;    /* one a column, NULL: no point; integers exactly whole */
    double value; /* wf_model_value(x); NaN without a point */
    double bound; /* lower bound on every point's value, proved by the duals of a relaxed solve, by
                   * the solver's word of a search; -inf: none, +inf: no point */
    double *dual; /* one a row; only of a relaxed, optimal solve, else NULL */
    double *reduced; /* one a column; likewise */
};

/*
 * Solves. *out is filled on WF_OK and must be cleared by wf_solution_clear; on failure it is empty.
 * "Better than the cutoff" is by more than WF_SOLVER_TOLERANCE in units of max(1, |cutoff|). Where
 * no such point is, the outcome is WF_OUTCOME_INFEASIBLE and the bound is about the cutoff, or
 * above. Calls in separate threads do not disturb each other.
 */
enum wf_status wf_solver_run(const struct wf_model *m, const struct wf_solver_options *o,
                             struct wf_solution *out, struct wf_error *e) WF_MUST_USE;
void wf_solution_clear(struct wf_solution *s); /* NULL pointers after it; a zeroed one is allowed */

/*
 * A linear program kept open, for a branch and bound: bounds, rows, costs and terms change,
 * and each solve starts from where the last one ended. That columns are whole is ignored. Nothing
 * is allocated by us between opening and closing.
 *
 * Every answer is checked against the program's own numbers before it is given: an optimum's point
 * by its rows, its value by what the duals prove, that there is no point by duals that prove it
 * (program.h). What does not stand is solved another way; only what the last way says is given as
 * it is. So value is proved but for the solver's last resort, and x misses no row by more than
 * WF_SOLVER_TOLERANCE; a point that is to be kept must still pass wf_model_violation.
 *
 * An lp is used and closed in the thread that opened it. If the solver gives up inside any call of
 * this header, every lp open in the thread is lost: its calls return WF_INTERNAL; closing is safe.
 */
struct wf_lp;

struct wf_lp_answer {
    enum wf_outcome outcome; /* OPTIMAL, INFEASIBLE (or at the cutoff), UNBOUNDED, UNKNOWN (time) */
    double value; /* lower bound on all points: of the optimum, or at the cutoff or above; +-inf */
    double *x;    /* room for one a column; filled if optimal. NULL: not wanted */
    double *dual; /* likewise, one a row; value is what they prove */
    double *reduced; /* likewise, one a column: cost - dual . column */
};

enum wf_status wf_lp_open(const struct wf_model *m, struct wf_lp **out,
                          struct wf_error *e) WF_MUST_USE; /* the model is copied */
void wf_lp_close(struct wf_lp *lp);                        /* NULL allowed */

/* low <= high; a call that makes no sense is told by the next solve, as WF_INTERNAL. */
void wf_lp_bounds(struct wf_lp *lp, int column, double low, double high);
void wf_lp_row(struct wf_lp *lp, int row, double low, double high);
void wf_lp_cost(struct wf_lp *lp, int column, double cost);
/* New coefficients for the terms that the row has, from values[column]; 0 is allowed. */
enum wf_status wf_lp_terms(struct wf_lp *lp, int row, const double *values,
                           struct wf_error *e) WF_MUST_USE;
void wf_lp_limit(struct wf_lp *lp, double seconds); /* about, from now, for all solves; 0: none */
/* What the next solve counts as work (clock.h): by what the program holds, so the same each time.
 */
long wf_lp_work(const struct wf_lp *lp);

/* Stops as soon as the value is proved to be at least `cutoff`; +INFINITY: never. */
enum wf_status wf_lp_solve(struct wf_lp *lp, double cutoff, struct wf_lp_answer *a,
                           struct wf_error *e) WF_MUST_USE;

#endif
