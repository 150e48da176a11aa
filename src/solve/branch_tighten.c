/*
 * Greatest weights from shares: no lot weighs more than its greatest share of the heaviest grist
 * that meets the wishes. The smaller the greatest weights are, the more the counts tell the linear
 * program (branch_rows.c).
 */
#include "solve/branch.h"

#include "base/alloc.h"
#include "base/try.h"
#include "solve/branch_shape.h"

#include <math.h>

/* The heaviest total by the linear program; +INFINITY where it does not say. */
static enum wf_status heaviest(const struct wf_part *part, double *total, struct wf_error *e)
{
    struct wf_shape *s = NULL;
    struct wf_lp *lp = NULL;
    enum wf_status status;
    *total = INFINITY;
    WF_TRY_GOTO(wf_shape_make(part, NULL, &s, e));
    if (s->total < 0)
        goto done;
    wf_model_clear_costs(s->lp);
    wf_model_set_cost(s->lp, s->total, -1);
    WF_TRY_GOTO(wf_lp_open(s->lp, &lp, e));
    struct wf_lp_answer a = {0};
    WF_TRY_GOTO(wf_lp_solve(lp, (double)INFINITY, &a, e));
    if (a.outcome == WF_OUTCOME_OPTIMAL)
        *total = -a.value;
done:
    wf_lp_close(lp);
    wf_shape_free(s);
    return status;
}

/* In a row "weights - share x total <= 0" each weight alone is at most the share of the total. */
static void tighten_row(struct wf_model *m, int total_column, double total, const int *columns,
                        const double *values, int count)
{
    double share = 0;
    for (int k = 0; k < count; k++) {
        if (columns[k] == total_column)
            share = -values[k];
        else if (values[k] < 0 || wf_model_low(m, columns[k]) < 0)
            return;
    }
    for (int k = 0; share > 0 && k < count; k++) {
        int j = columns[k];
        if (j == total_column || !wf_model_integer(m, j) || !(values[k] > 0))
            continue;
        double most = floor(share * total * (1 + 1e-9) / values[k] + 1e-6);
        if (most < wf_model_high(m, j))
            wf_model_set_bounds(m, j, wf_model_low(m, j), fmax(most, wf_model_low(m, j)));
    }
}

enum wf_status wf_branch_tighten(const struct wf_part *part, struct wf_error *e)
{
    struct wf_model *m = part->model;
    double total;
    if (part->total < 0)
        return WF_OK;
    WF_TRY(heaviest(part, &total, e));
    size_t width = (size_t)wf_model_columns(m);
    int *columns = wf_alloc(width, sizeof *columns);
    double *values = wf_alloc(width, sizeof *values);
    bool failed = columns == NULL || values == NULL;
    for (int i = 0; !failed && isfinite(total) && i < wf_model_rows(m); i++) {
        if (wf_model_row_high(m, i) > 0)
            continue;
        int count = wf_model_row_terms(m, i, columns, values);
        tighten_row(m, part->total, total, columns, values, count);
    }
    wf_free(columns);
    wf_free(values);
    return failed ? wf_error_add(e, WF_MEMORY, "out of memory") : WF_OK;
}
