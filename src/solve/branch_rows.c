/*
 * The rows of the whole model as rows of the linear program, as counts, or as nothing, where states
 * say them.
 */
#include "solve/branch_shaping.h"

#include "base/alloc.h"

#include <math.h>

/* Steps of several lots together, as a whole column: the linear program moves weight between lots
 * that are much alike at hardly any cost, so that bounding one lot's steps says little; bounding
 * their sum says much. */
static void add_sum(struct wf_shaping *w,
                    bool (*same)(const struct wf_lot *, const struct wf_lot *), int first)
{
    struct wf_shape *s = w->s;
    double most = 0;
    int count = 0;
    for (int k = 0; k < s->lot_count; k++) {
        if (!same(&s->lots[first], &s->lots[k]))
            continue;
        if (k < first)
            return; /* had by an earlier lot */
        most += s->lots[k].most;
        count++;
    }
    if (count < 2)
        return;
    int column = wf_model_column(s->lp, 0, fmin(most, 1e6), 0, true, "");
    int row = wf_model_row(s->lp, 0, 0, "");
    wf_model_term(s->lp, row, column, -1);
    for (int k = first; k < s->lot_count; k++) {
        if (!same(&s->lots[first], &s->lots[k]))
            continue;
        wf_model_term(s->lp, row, s->lots[k].column, 1);
        s->lots[k].sum = column;
    }
}

static bool same_step(const struct wf_lot *a, const struct wf_lot *b)
{
    return a->step == b->step;
}

static bool same_group(const struct wf_lot *a, const struct wf_lot *b)
{
    return a->step == b->step && a->group == b->group;
}

static void add_sums(struct wf_shaping *w)
{
    for (int k = 0; k < w->s->lot_count; k++)
        add_sum(w, same_step, k);
    for (int k = 0; k < w->s->lot_count; k++)
        add_sum(w, same_group, k);
    if (wf_model_columns(w->s->lp) == 0 || wf_model_rows(w->s->lp) == 0) { /* nothing is wished */
        int column = wf_model_column(w->s->lp, 0, 0, 0, false, "nothing");
        wf_model_term(w->s->lp, wf_model_row(w->s->lp, 0, 0, "nothing"), column, 1);
    }
}

/* The terms of a row but those of columns that are fixed at 0; how many are of use, and of other,
 * columns. */
static int terms_of(struct wf_shaping *w, int row, int *uses, int *others)
{
    const struct wf_model *m = w->part->model;
    int all = wf_model_row_terms(m, row, w->columns, w->values), count = 0;
    *uses = *others = 0;
    for (int k = 0; k < all; k++) {
        int j = w->columns[k];
        if (w->role[j] == WF_ROLE_OTHER && wf_model_low(m, j) == wf_model_high(m, j))
            continue;
        w->columns[count] = j;
        w->values[count++] = w->values[k];
        *(w->role[j] >= WF_ROLE_USE ? uses : others) += 1;
    }
    return count;
}

/* The two rows that tie a use column to its weight: by then said by the lot's states. */
static bool ties_use(const struct wf_shaping *w, int count, int uses)
{
    if (count != 2 || uses != 1)
        return false;
    int a = w->columns[0], b = w->columns[1];
    return (w->role[a] == WF_ROLE_WEIGHT || w->role[b] == WF_ROLE_WEIGHT) &&
           w->lot_of[a] == w->lot_of[b];
}

/* The rows that tie a present column to the use columns of its kind: said by the unit. */
static bool ties_present(const struct wf_shaping *w, int count)
{
    int kind = -1;
    for (int k = 0; k < count; k++)
        if (w->role[w->columns[k]] == WF_ROLE_PRESENT)
            kind = w->columns[k];
    for (int k = 0; kind >= 0 && k < count; k++)
        if (w->kind_of[w->columns[k]] != kind || w->role[w->columns[k]] < WF_ROLE_USE)
            return false;
    return kind >= 0 && (count > 1 || w->values[0] < 0); /* alone: a hop with nowhere to go */
}

static bool add_count_row(struct wf_shaping *w, int row, int count)
{
    struct wf_count_row *c = &w->s->counts[w->s->count_rows++];
    c->low = wf_model_row_low(w->part->model, row);
    c->high = wf_model_row_high(w->part->model, row);
    c->units = wf_arena_alloc(w->s->arena, (size_t)count, sizeof *c->units);
    for (int k = 0; c->units != NULL && k < count; k++) {
        if (fabs(w->values[k] - 1) > 1e-12)
            return false;
        if (w->unit_of[w->columns[k]] >= 0)
            c->units[c->count++] = w->unit_of[w->columns[k]];
    }
    w->failed = c->units == NULL;
    return !w->failed;
}

/* A row that says nothing once its lots are gone, such as a greatest share of one: a multiple of
 * the total, which is never below 0. */
static bool says_nothing(const struct wf_shaping *w, int row, int count)
{
    double low = wf_model_row_low(w->part->model, row),
           high = wf_model_row_high(w->part->model, row);
    double total = 0;
    for (int k = 0; k < count; k++) {
        if (w->columns[k] == w->part->total)
            total = w->values[k];
        else if (w->column_in_lp[w->columns[k]] >= 0)
            return false;
    }
    return (total <= 0 ? isinf(low) || (total == 0 && low <= 0) : low <= 0) &&
           (total >= 0 ? isinf(high) || (total == 0 && high >= 0) : high >= 0);
}

static void add_lp_row(struct wf_shaping *w, int row, int count)
{
    if (says_nothing(w, row, count))
        return;
    int at = wf_model_row(w->s->lp, wf_model_row_low(w->part->model, row),
                          wf_model_row_high(w->part->model, row), "");
    for (int k = 0; k < count; k++)
        if (w->column_in_lp[w->columns[k]] >= 0)
            wf_model_term(w->s->lp, at, w->column_in_lp[w->columns[k]], w->values[k]);
}

/* Columns that are fixed at something other than 0 would need their part moved to the bounds; the
 * models have none, and one that has does not suit. */
static bool fixed_are_zero(const struct wf_shaping *w)
{
    const struct wf_model *m = w->part->model;
    for (int j = 0; j < wf_model_columns(m); j++)
        if (wf_model_low(m, j) == wf_model_high(m, j) && wf_model_low(m, j) != 0)
            return false;
    return true;
}

bool wf_shape_rows(struct wf_shaping *w)
{
    int rows = wf_model_rows(w->part->model);
    if (!fixed_are_zero(w))
        return false;
    w->s->sums = wf_model_columns(w->s->lp);
    w->s->counts = wf_arena_alloc(w->s->arena, (size_t)rows, sizeof *w->s->counts);
    w->failed = w->s->counts == NULL;
    for (int i = 0; !w->failed && i < rows; i++) {
        int uses, others, count = terms_of(w, i, &uses, &others);
        if (ties_use(w, count, uses) || ties_present(w, count))
            continue;
        if (uses > 0 && others > 0)
            return false;
        if (uses > 0) {
            if (!add_count_row(w, i, count))
                return false;
        } else {
            add_lp_row(w, i, count);
        }
    }
    w->failed = w->failed || !wf_shape_counts(w);
    if (!w->failed)
        add_sums(w);
    return !w->failed;
}
