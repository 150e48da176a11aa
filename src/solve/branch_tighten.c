/*
 * Greatest weights from sums. No lot weighs more than its greatest share of the heaviest grist that
 * meets the wishes, nor more than all lots of its group and step together can; and once a recipe is
 * known, only grists and groups count that a cheaper one can have. The smaller the greatest weights
 * are, the more the counts tell the linear program (branch_rows.c).
 */
#include "solve/branch.h"

#include "base/alloc.h"
#include "base/try.h"
#include "solve/branch_shape.h"

#include <math.h>

struct tightening {
    const struct wf_part *part;
    struct wf_shape *s;
    struct wf_lp *lp;
    int maximised; /* lp column; -1: none yet */
    bool changed;
    struct wf_error *e;
};

/* The linear program with its costs as one more row, to stay below the cutoff. */
static enum wf_status open_program(struct tightening *t, double cutoff)
{
    WF_TRY(wf_shape_make(t->part, NULL, &t->s, t->e));
    struct wf_model *lp = t->s->lp;
    if (isfinite(cutoff)) {
        int row = wf_model_row(lp, -(double)INFINITY, cutoff - wf_model_offset(lp) + 1e-6, "below");
        for (int j = 0; j < wf_model_columns(lp); j++)
            wf_model_term(lp, row, j, wf_model_cost(lp, j));
    }
    wf_model_clear_costs(lp);
    return wf_lp_open(lp, &t->lp, t->e);
}

/* The greatest value of a column, +INFINITY where the linear program does not say. */
static enum wf_status greatest(struct tightening *t, int column, double *most)
{
    struct wf_lp_answer a = {0};
    if (t->maximised >= 0)
        wf_lp_cost(t->lp, t->maximised, 0);
    wf_lp_cost(t->lp, column, -1);
    t->maximised = column;
    WF_TRY(wf_lp_solve(t->lp, (double)INFINITY, &a, t->e));
    *most = a.outcome == WF_OUTCOME_OPTIMAL ? -a.value : (double)INFINITY;
    return WF_OK;
}

static void lower(struct tightening *t, int column, double most)
{
    struct wf_model *m = t->part->model;
    double steps = floor(most * (1 + 1e-9) + 1e-6), low = wf_model_low(m, column);
    if (!(steps < wf_model_high(m, column)))
        return;
    wf_model_set_bounds(m, column, low, fmax(steps, low));
    t->changed = true;
}

/* In a row "weights - share x total <= 0" each weight alone is at most the share of the total. */
static void lower_by_share(struct tightening *t, double total, const int *columns,
                           const double *values, int count)
{
    const struct wf_model *m = t->part->model;
    double share = 0;
    for (int k = 0; k < count; k++) {
        if (columns[k] == t->part->total)
            share = -values[k];
        else if (values[k] < 0 || wf_model_low(m, columns[k]) < 0)
            return;
    }
    for (int k = 0; share > 0 && k < count; k++)
        if (columns[k] != t->part->total && wf_model_integer(m, columns[k]) && values[k] > 0)
            lower(t, columns[k], share * total / values[k]);
}

static enum wf_status lower_by_shares(struct tightening *t)
{
    struct wf_model *m = t->part->model;
    double total;
    WF_TRY(greatest(t, t->s->total, &total));
    size_t width = (size_t)wf_model_columns(m);
    int *columns = wf_alloc(width, sizeof *columns);
    double *values = wf_alloc(width, sizeof *values);
    bool failed = columns == NULL || values == NULL;
    for (int i = 0; !failed && isfinite(total) && i < wf_model_rows(m); i++)
        if (!(wf_model_row_high(m, i) > 0))
            lower_by_share(t, total, columns, values, wf_model_row_terms(m, i, columns, values));
    wf_free(columns);
    wf_free(values);
    return failed ? wf_error_add(t->e, WF_MEMORY, "out of memory") : WF_OK;
}

/* From lot k on, those of the same sum. */
static enum wf_status lower_by_sum(struct tightening *t, int k)
{
    const struct wf_lot *lots = t->s->lots;
    int sum = lots[k].sum;
    double most;
    for (int i = 0; i < k; i++)
        if (lots[i].sum == sum)
            return WF_OK; /* done */
    WF_TRY(greatest(t, sum, &most));
    for (int i = k; isfinite(most) && i < t->s->lot_count; i++)
        if (lots[i].sum == sum)
            lower(t, lots[i].weight, most);
    return WF_OK;
}

enum wf_status wf_branch_tighten(const struct wf_part *part, double cutoff, bool *changed,
                                 struct wf_error *e)
{
    struct tightening t = {.part = part, .maximised = -1, .e = e};
    enum wf_status status;
    WF_TRY_GOTO(open_program(&t, cutoff));
    if (isfinite(cutoff) && !t.s->charged && t.s->size_count == 0)
        goto done; /* greatest weights say nothing that the rows do not */
    if (t.s->total >= 0)
        WF_TRY_GOTO(lower_by_shares(&t));
    for (int k = 0; k < t.s->lot_count; k++)
        WF_TRY_GOTO(lower_by_sum(&t, k));
done:
    *changed = t.changed;
    wf_lp_close(t.lp);
    wf_shape_free(t.s);
    return status;
}
