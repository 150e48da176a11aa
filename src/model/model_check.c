/* model_check.c: the gate before the solver, which aborts or answers nonsense on what is refused
 * here. */
#include "model/model_parts.h"

#include <math.h>

#define INTEGER_BOUND_MOST 1e6 /* a solver's presolve can hang on integers with wider bounds */
#define NUMBER_MOST        1e9 /* beyond it nothing is left of the solver's tolerances */

/* NaN is refused too: it passes no comparison. */
static bool sane(double v)
{
    return fabs(v) <= NUMBER_MOST;
}

static bool sane_bounds(double low, double high)
{
    return (sane(low) || low == -HUGE_VAL) && (sane(high) || high == HUGE_VAL) && low <= high;
}

static bool whole_bounds(double low, double high)
{
    return fabs(low) <= INTEGER_BOUND_MOST && fabs(high) <= INTEGER_BOUND_MOST &&
           low == round(low) && high == round(high);
}

static bool check_column(const struct wf_model_column *c, int column, struct wf_error *e)
{
    bool ok = true;
    if (!sane(c->cost))
        ok = !wf_error_add(e, WF_INTERNAL,
                           "model: column %d '%s' costs %g, not a number within +-%g", column,
                           c->label, c->cost, NUMBER_MOST);
    if (!sane_bounds(c->low, c->high))
        ok = !wf_error_add(e, WF_INTERNAL, "model: column %d '%s' has no sane bounds: %g to %g",
                           column, c->label, c->low, c->high);
    else if (c->integer && !whole_bounds(c->low, c->high))
        ok = !wf_error_add(e, WF_INTERNAL,
                           "model: whole column %d '%s' is bounded by %g and %g, not by whole "
                           "numbers within +-%g",
                           column, c->label, c->low, c->high, INTEGER_BOUND_MOST);
    return ok;
}

static bool check_row(const struct wf_model_row *r, int row, struct wf_error *e)
{
    bool ok = true;
    if (!sane_bounds(r->low, r->high))
        ok = !wf_error_add(e, WF_INTERNAL, "model: row %d '%s' has no sane bounds: %g to %g", row,
                           r->label, r->low, r->high);
    for (int k = 0; k < r->count; k++)
        if (!sane(r->terms[k].value))
            ok = !wf_error_add(e, WF_INTERNAL,
                               "model: row %d '%s' takes column %d %g times, not a number within "
                               "+-%g",
                               row, r->label, r->terms[k].column, r->terms[k].value, NUMBER_MOST);
    return ok;
}

static bool check_whole(const struct wf_model *m, struct wf_error *e)
{
    bool ok = true;
    if (m->row_count == 0 || m->column_count == 0)
        ok = !wf_error_add(e, WF_INTERNAL, "model: %d rows and %d columns are nothing to solve",
                           m->row_count, m->column_count);
    if (m->misplaced)
        ok = !wf_error_add(e, WF_INTERNAL,
                           "model: a call named a row or a column that is not there");
    if (!sane(m->offset))
        ok = !wf_error_add(e, WF_INTERNAL, "model: the offset is %g, not a number within +-%g",
                           m->offset, NUMBER_MOST);
    return ok;
}

enum wf_status wf_model_check(const struct wf_model *m, struct wf_error *e)
{
    if (m->failed)
        return wf_error_add(e, WF_MEMORY, "out of memory");
    bool ok = check_whole(m, e);
    for (int j = 0; j < m->column_count; j++)
        ok &= check_column(&m->columns[j], j, e);
    for (int i = 0; i < m->row_count; i++)
        ok &= check_row(&m->rows[i], i, e);
    return ok ? WF_OK : WF_INTERNAL;
}
