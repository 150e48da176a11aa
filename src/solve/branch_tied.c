/*
 * Columns whose values the weights say, and the dense picture of what a step of each lot does to
 * each row.
 */
#include "solve/branch_shaping.h"

#include "base/alloc.h"

#include <math.h>

static bool is_own(const struct wf_shaping *w, int column)
{
    return column >= w->s->lot_count && column < w->s->sums && column != w->s->total;
}

static void add_tied_column(const struct wf_shaping *w, struct wf_tied *t, int at, int column,
                            double per)
{
    t->column[at] = column;
    t->per[at] = per;
    t->cost[at] = wf_model_cost(w->s->lp, column);
    t->most[at] = wf_model_high(w->s->lp, column);
    t->whole = wf_model_integer(w->s->lp, column);
}

/* A distance on either side of an aim, or packs above a weight; anything else is not understood. */
static bool read_tied(struct wf_shaping *w, int row, int count, struct wf_tied *t)
{
    double low = wf_model_row_low(w->s->lp, row), high = wf_model_row_high(w->s->lp, row);
    *t = (struct wf_tied){.row = row, .low = low, .high = high, .column = {-1, -1}};
    for (int k = 0; k < count; k++) {
        if (!is_own(w, w->columns[k]))
            continue;
        int at = w->values[k] > 0 ? 0 : 1;
        if (t->column[at] >= 0 || wf_model_low(w->s->lp, w->columns[k]) != 0)
            return false;
        add_tied_column(w, t, at, w->columns[k], w->values[k]);
    }
    bool aim =
        isfinite(low) && isfinite(high) && t->column[0] >= 0 && t->column[1] >= 0 && !t->whole;
    bool packs = isinf(high) && t->column[0] >= 0 && t->column[1] < 0 && t->whole;
    return aim || packs;
}

bool wf_shape_tie(struct wf_shaping *w)
{
    struct wf_shape *s = w->s;
    int rows = wf_model_rows(s->lp), owned = 0;
    s->tied = wf_arena_alloc(s->arena, (size_t)rows, sizeof *s->tied);
    for (int i = 0; s->tied != NULL && i < rows; i++) {
        int count = wf_model_row_terms(s->lp, i, w->columns, w->values), own = 0;
        for (int k = 0; k < count; k++)
            own += is_own(w, w->columns[k]);
        owned += own;
        if (own > 0 && read_tied(w, i, count, &s->tied[s->tied_count]))
            s->tied_count++;
        else if (own > 0)
            s->plain = false;
    }
    int others = s->sums - s->lot_count - (s->total >= 0);
    s->plain = s->plain && owned == others; /* each in one row only */
    return s->tied != NULL;
}

double wf_shape_complete(const struct wf_shape *s, const double *activity, double *lp_x)
{
    double cost = 0;
    for (int i = 0; i < s->tied_count; i++) {
        const struct wf_tied *t = &s->tied[i];
        double below = t->low - activity[t->row], above = t->high - activity[t->row], value[2];
        value[0] = fmax(0, below) / t->per[0];
        value[1] = t->column[1] >= 0 ? fmin(0, above) / t->per[1] : 0;
        if (t->whole)
            value[0] = ceil(value[0] - 1e-9);
        for (int side = 0; side < 2; side++) {
            if (t->column[side] < 0)
                continue;
            if (value[side] > t->most[side])
                return INFINITY;
            lp_x[t->column[side]] = value[side];
            cost += t->cost[side] * value[side];
        }
    }
    return cost;
}

/* ---- The dense picture ----------------------------------------------------------------------- */

static int total_row(const struct wf_shaping *w)
{
    for (int i = 0; w->s->total >= 0 && i < wf_model_rows(w->s->lp); i++) {
        if (wf_model_row_low(w->s->lp, i) != 0 || wf_model_row_high(w->s->lp, i) != 0)
            continue;
        int count = wf_model_row_terms(w->s->lp, i, w->columns, w->values);
        for (int k = 0; k < count; k++)
            if (w->columns[k] == w->s->total && w->values[k] == -1)
                return i;
    }
    return -1;
}

bool wf_shape_dense(struct wf_shaping *w)
{
    struct wf_shape *s = w->s;
    s->rows = wf_model_rows(s->lp);
    size_t cells = (size_t)s->rows * (size_t)s->lot_count;
    s->dense = wf_arena_alloc(s->arena, cells, sizeof *s->dense);
    s->row_low = wf_arena_alloc(s->arena, (size_t)s->rows, sizeof *s->row_low);
    s->row_high = wf_arena_alloc(s->arena, (size_t)s->rows, sizeof *s->row_high);
    s->wide = wf_arena_alloc(s->arena, (size_t)s->rows + 1, sizeof *s->wide);
    if (s->dense == NULL || s->row_low == NULL || s->row_high == NULL || s->wide == NULL)
        return false;
    int total = total_row(w),
        count = total < 0 ? 0 : wf_model_row_terms(s->lp, total, w->columns, w->values);
    for (int k = 0; k < count; k++)
        if (w->columns[k] < s->lot_count)
            s->lots[w->columns[k]].in_total = w->values[k];
    if (!wf_shape_tie(w))
        return false;
    for (int i = 0; i < s->rows; i++) {
        s->row_low[i] = i == total ? -(double)INFINITY : wf_model_row_low(s->lp, i);
        s->row_high[i] = i == total ? (double)INFINITY : wf_model_row_high(s->lp, i);
        double *row = &s->dense[(size_t)i * (size_t)s->lot_count];
        count = wf_model_row_terms(s->lp, i, w->columns, w->values);
        for (int k = 0; k < count; k++) {
            if (w->columns[k] < s->lot_count)
                row[w->columns[k]] += w->values[k];
            else if (w->columns[k] >= s->sums) {
                s->row_low[i] = -(double)INFINITY;
                s->row_high[i] = INFINITY;
            } else if (w->columns[k] == s->total)
                for (int lot = 0; lot < s->lot_count; lot++)
                    row[lot] += w->values[k] * s->lots[lot].in_total;
        }
        if (2 * count > s->lot_count && (isfinite(s->row_low[i]) || isfinite(s->row_high[i])))
            s->wide[s->wide_count++] = i;
    }
    for (int i = 0; i < s->tied_count; i++) {
        s->row_low[s->tied[i].row] = -(double)INFINITY;
        s->row_high[s->tied[i].row] = INFINITY;
    }
    return true;
}
