/*
 * engine.h: the solver underneath. It is believed in nothing: lp.c and solver.c check its claims.
 *
 * An engine holds one linear program with whole columns and lives in the thread that opened it. If
 * it gives up in a call, that call returns WF_INTERNAL and all engines of the thread are lost:
 * wf_engine_alive is false, and only closing is allowed.
 */
#ifndef WF_ENGINE_H
#define WF_ENGINE_H

#include "solve/program.h"
#include "solve/solver.h"

struct wf_engine;

/* `m` tells which columns are whole; `p` is the same model as arrays. Of its rows the engine takes
 * those listed, and knows them by their place in the list. */
enum wf_status wf_engine_open(const struct wf_model *m, const struct wf_program *p, const int *rows,
                              int count, struct wf_engine **out, struct wf_error *e) WF_MUST_USE;
void wf_engine_close(struct wf_engine *g); /* NULL allowed */
bool wf_engine_alive(const struct wf_engine *g);

/* Of a living engine; index, bounds and cost must make sense. */
void wf_engine_bounds(struct wf_engine *g, int column, double low, double high);
void wf_engine_row(struct wf_engine *g, int row, double low, double high);
void wf_engine_cost(struct wf_engine *g, int column, double cost);
/* The engine's row `at` gets the bounds and terms that the program's row has; one more than there
 * are is added. */
enum wf_status wf_engine_terms(struct wf_engine *g, int at, const struct wf_program *p, int row,
                               struct wf_error *e) WF_MUST_USE;

#define WF_ENGINE_WAYS 4 /* of solving a linear program, the quickest first */

struct wf_engine_simplex {
    int way;
    double cutoff;  /* stop once the value is at least this; +INFINITY: never */
    double seconds; /* +INFINITY: no limit */

    /* The claim. */
    bool known;              /* false: it came to no answer */
    enum wf_outcome outcome; /* never FEASIBLE; UNKNOWN: out of time */
    bool at_cutoff;          /* infeasible only in that nothing is below the cutoff */
    double value;            /* of an optimum */
    double *x;               /* room for one a column; filled if optimal */
    double *dual;            /* room for one a row; what should prove value, cutoff or no point */
};
enum wf_status wf_engine_simplex(struct wf_engine *g, struct wf_engine_simplex *s,
                                 struct wf_error *e) WF_MUST_USE;

struct wf_engine_search {
    const struct wf_solver_options *options; /* of these gap, cancel and progress */
    bool careful;                            /* another way, for where the first did not stand up */
    double cutoff;                           /* values above are of no interest; +INFINITY: all */
    double seconds;                          /* +INFINITY: no limit */

    /* The claim. */
    enum wf_outcome outcome; /* never UNBOUNDED */
    double bound;            /* lower bound on all values up to the cutoff */
    double *x;               /* room for one a column; filled if optimal or feasible */
};
/* Branch and bound. The relaxation must have an optimum. */
enum wf_status wf_engine_search(struct wf_engine *g, struct wf_engine_search *s,
                                struct wf_error *e) WF_MUST_USE;

#endif
