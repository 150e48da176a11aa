#include "solve/branch_shape.h"

#include "base/alloc.h"
#include "base/try.h"

#include <math.h>
#include <string.h>

/* What a column of the whole model is. */
enum role { ROLE_OTHER, ROLE_WEIGHT, ROLE_USE, ROLE_PRESENT };

struct work {
    const struct wf_part *part;
    struct wf_shape *s;
    enum role *role;   /* of each column of the whole model */
    int *lot_of;       /* weight and use columns: the lot; -1: not taken */
    int *unit_of;      /* use and present columns: the unit; -1: not taken */
    int *kind_of;      /* use and present columns: the present column; -1: none */
    int *column_in_lp; /* -1: not there */
    int *columns;      /* room for a row's terms */
    double *values;
    bool failed;
};

/* ---- Which columns are what ------------------------------------------------------------------ */

/* The unit of a use or present column gets one more lot. */
static bool add_to_unit(struct work *w, int column, int lot)
{
    struct wf_shape *s = w->s;
    if (w->unit_of[column] < 0) {
        w->unit_of[column] = s->unit_count;
        s->units[s->unit_count] =
            (struct wf_unit){.column = column,
                             .charge = wf_model_cost(w->part->model, column),
                             .lots = wf_arena_alloc(s->arena, w->part->item_count, sizeof(int))};
        s->charged = s->charged || s->units[s->unit_count].charge != 0;
        s->unit_count++;
    }
    struct wf_unit *u = &s->units[w->unit_of[column]];
    if (u->lots == NULL)
        return false;
    u->lots[u->count++] = lot;
    if (u->charge != 0)
        s->lots[lot].charged = w->unit_of[column];
    return true;
}

static bool set_roles(struct work *w, const bool *keep)
{
    int columns = wf_model_columns(w->part->model);
    w->role = wf_arena_alloc(w->s->arena, (size_t)columns, sizeof *w->role);
    w->lot_of = wf_arena_alloc(w->s->arena, (size_t)columns, sizeof *w->lot_of);
    w->column_in_lp = wf_arena_alloc(w->s->arena, (size_t)columns, sizeof *w->column_in_lp);
    w->unit_of = wf_arena_alloc(w->s->arena, (size_t)columns, sizeof *w->unit_of);
    w->kind_of = wf_arena_alloc(w->s->arena, (size_t)columns, sizeof *w->kind_of);
    w->s->units = wf_arena_alloc(w->s->arena, (size_t)columns, sizeof *w->s->units);
    size_t wide = 2 * (size_t)columns; /* sums are added: fewer than there are lots, twice */
    w->columns = wf_arena_alloc(w->s->arena, wide, sizeof *w->columns);
    w->values = wf_arena_alloc(w->s->arena, wide, sizeof *w->values);
    w->s->column_of = wf_arena_alloc(w->s->arena, (size_t)columns, sizeof *w->s->column_of);
    w->s->lots = wf_arena_alloc(w->s->arena, w->part->item_count, sizeof *w->s->lots);
    if (!w->role || !w->lot_of || !w->unit_of || !w->kind_of || !w->s->units || !w->column_in_lp ||
        !w->columns || !w->values || !w->s->column_of || !w->s->lots)
        return false;
    for (int j = 0; j < columns; j++)
        w->lot_of[j] = w->unit_of[j] = w->kind_of[j] = w->column_in_lp[j] = -1;
    for (size_t i = 0; i < w->part->item_count; i++) {
        const struct wf_item *item = &w->part->items[i];
        w->role[item->weight] = ROLE_WEIGHT;
        w->role[item->use] = ROLE_USE;
        if (item->present >= 0) {
            w->role[item->present] = ROLE_PRESENT;
            w->kind_of[item->use] = w->kind_of[item->present] = item->present;
        }
        double most = wf_model_high(w->part->model, item->weight);
        if ((keep != NULL && !keep[i]) || most <= 0)
            continue;
        w->lot_of[item->weight] = w->lot_of[item->use] = w->s->lot_count;
        w->s->lots[w->s->lot_count++] =
            (struct wf_lot){.weight = item->weight,
                            .use = item->use,
                            .least = item->least,
                            .step = item->step,
                            .group = item->group,
                            .most = most,
                            .step_cost = wf_model_cost(w->part->model, item->weight),
                            .charged = -1};
        if (!add_to_unit(w, item->use, w->s->lot_count - 1) ||
            (item->present >= 0 && !add_to_unit(w, item->present, w->s->lot_count - 1)))
            return false;
    }
    return true;
}

static int lp_column(struct work *w, int j, double low, double high, double cost, bool integer)
{
    int at = wf_model_column(w->s->lp, low, high, cost, integer, "");
    w->column_in_lp[j] = at;
    w->s->column_of[at] = j;
    return at;
}

double wf_shape_spread(const struct wf_shape *s, int lot, double most)
{
    int charged = s->lots[lot].charged;
    return charged < 0 || most <= 0 ? 0
                                    : s->units[charged].charge / (most * s->units[charged].count);
}

static void add_columns(struct work *w)
{
    const struct wf_model *m = w->part->model;
    w->s->total = -1;
    w->s->plain = true;
    for (int k = 0; k < w->s->lot_count; k++) {
        struct wf_lot *lot = &w->s->lots[k];
        lot->column = lp_column(w, lot->weight, 0, lot->most,
                                lot->step_cost + wf_shape_spread(w->s, k, lot->most), true);
    }
    for (int j = 0; j < wf_model_columns(m); j++) {
        if (w->role[j] != ROLE_OTHER || wf_model_low(m, j) == wf_model_high(m, j))
            continue;
        int at = lp_column(w, j, wf_model_low(m, j), wf_model_high(m, j), wf_model_cost(m, j),
                           wf_model_integer(m, j));
        if (j == w->part->total)
            w->s->total = at;
    }
}

/* ---- Rows ------------------------------------------------------------------------------------ */

/* Steps of several lots together, as a whole column: the linear program moves weight between lots
 * that are much alike at hardly any cost, so that bounding one lot's steps says little; bounding
 * their sum says much. */
static void add_sum(struct work *w, bool (*same)(const struct wf_lot *, const struct wf_lot *),
                    int first)
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
    for (int k = first; k < s->lot_count; k++)
        if (same(&s->lots[first], &s->lots[k]))
            wf_model_term(s->lp, row, s->lots[k].column, 1);
}

static bool same_step(const struct wf_lot *a, const struct wf_lot *b)
{
    return a->step == b->step;
}

static bool same_group(const struct wf_lot *a, const struct wf_lot *b)
{
    return a->step == b->step && a->group == b->group;
}

static void add_sums(struct work *w)
{
    w->s->sums = wf_model_columns(w->s->lp);
    for (int k = 0; k < w->s->lot_count; k++)
        add_sum(w, same_step, k);
    for (int k = 0; k < w->s->lot_count; k++)
        add_sum(w, same_group, k);
}

/* The terms of a row but those of columns that are fixed at 0; how many are of use, and of other,
 * columns. */
static int terms_of(struct work *w, int row, int *uses, int *others)
{
    const struct wf_model *m = w->part->model;
    int all = wf_model_row_terms(m, row, w->columns, w->values), count = 0;
    *uses = *others = 0;
    for (int k = 0; k < all; k++) {
        int j = w->columns[k];
        if (w->role[j] == ROLE_OTHER && wf_model_low(m, j) == wf_model_high(m, j))
            continue;
        w->columns[count] = j;
        w->values[count++] = w->values[k];
        *(w->role[j] >= ROLE_USE ? uses : others) += 1;
    }
    return count;
}

/* The two rows that tie a use column to its weight: by then said by the lot's states. */
static bool ties_use(const struct work *w, int count, int uses)
{
    if (count != 2 || uses != 1)
        return false;
    int a = w->columns[0], b = w->columns[1];
    return (w->role[a] == ROLE_WEIGHT || w->role[b] == ROLE_WEIGHT) && w->lot_of[a] == w->lot_of[b];
}

/* The rows that tie a present column to the use columns of its kind: said by the unit. */
static bool ties_present(const struct work *w, int count)
{
    int kind = -1;
    for (int k = 0; k < count; k++)
        if (w->role[w->columns[k]] == ROLE_PRESENT)
            kind = w->columns[k];
    for (int k = 0; kind >= 0 && k < count; k++)
        if (w->kind_of[w->columns[k]] != kind || w->role[w->columns[k]] < ROLE_USE)
            return false;
    return kind >= 0 && (count > 1 || w->values[0] < 0); /* alone: a hop with nowhere to go */
}

static bool add_count_row(struct work *w, int row, int count)
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
    return c->units != NULL;
}

/* A row that says nothing once its lots are gone, such as a greatest share of one: a multiple of
 * the total, which is never below 0. */
static bool says_nothing(const struct work *w, int row, int count)
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

static void add_lp_row(struct work *w, int row, int count)
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
static bool fixed_are_zero(const struct work *w)
{
    const struct wf_model *m = w->part->model;
    for (int j = 0; j < wf_model_columns(m); j++)
        if (wf_model_low(m, j) == wf_model_high(m, j) && wf_model_low(m, j) != 0)
            return false;
    return true;
}

/* False: the model does not suit, or memory ran out (w->failed). */
static bool add_rows(struct work *w)
{
    int rows = wf_model_rows(w->part->model);
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
    if (!w->failed)
        add_sums(w);
    return !w->failed;
}

/* ---- Tied columns ---------------------------------------------------------------------------- */

static bool is_own(const struct work *w, int column)
{
    return column >= w->s->lot_count && column < w->s->sums && column != w->s->total;
}

static void add_tied_column(const struct work *w, struct wf_tied *t, int at, int column, double per)
{
    t->column[at] = column;
    t->per[at] = per;
    t->cost[at] = wf_model_cost(w->s->lp, column);
    t->most[at] = wf_model_high(w->s->lp, column);
    t->whole = wf_model_integer(w->s->lp, column);
}

/* A distance on either side of an aim, or packs above a weight; anything else is not understood. */
static bool read_tied(struct work *w, int row, int count, struct wf_tied *t)
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

/* False: memory ran out. */
static bool find_tied(struct work *w)
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

static int total_row(const struct work *w)
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

static bool make_dense(struct work *w)
{
    struct wf_shape *s = w->s;
    s->rows = wf_model_rows(s->lp);
    size_t cells = (size_t)s->rows * (size_t)s->lot_count;
    s->dense = wf_arena_alloc(s->arena, cells, sizeof *s->dense);
    s->row_low = wf_arena_alloc(s->arena, (size_t)s->rows, sizeof *s->row_low);
    s->row_high = wf_arena_alloc(s->arena, (size_t)s->rows, sizeof *s->row_high);
    if (s->dense == NULL || s->row_low == NULL || s->row_high == NULL)
        return false;
    int total = total_row(w),
        count = total < 0 ? 0 : wf_model_row_terms(s->lp, total, w->columns, w->values);
    for (int k = 0; k < count; k++)
        if (w->columns[k] < s->lot_count)
            s->lots[w->columns[k]].in_total = w->values[k];
    if (!find_tied(w))
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
    }
    for (int i = 0; i < s->tied_count; i++) {
        s->row_low[s->tied[i].row] = -(double)INFINITY;
        s->row_high[s->tied[i].row] = INFINITY;
    }
    return true;
}

/* Only uses are charged, and whole amounts: then every value is whole. */
static bool has_whole_values(const struct work *w)
{
    const struct wf_model *m = w->part->model;
    for (int j = 0; j < wf_model_columns(m); j++) {
        double cost = wf_model_cost(m, j);
        if (cost != 0 && (w->role[j] < ROLE_USE || cost != round(cost)))
            return false;
    }
    return wf_model_offset(m) == round(wf_model_offset(m));
}

/* ---- The whole ------------------------------------------------------------------------------- */

enum wf_status wf_shape_make(const struct wf_part *part, const bool *keep, struct wf_shape **out,
                             struct wf_error *e)
{
    struct wf_arena *arena = wf_arena_new();
    struct wf_shape *s = arena == NULL ? NULL : wf_arena_alloc(arena, 1, sizeof *s);
    if (s == NULL) {
        wf_arena_free(arena);
        return wf_error_add(e, WF_MEMORY, "out of memory");
    }
    struct work w = {.part = part, .s = s};
    enum wf_status status = WF_MEMORY;
    s->arena = arena;
    s->whole = part->model;
    s->lp = wf_model_new();
    if (s->lp == NULL || !set_roles(&w, keep)) {
        wf_error_add(e, WF_MEMORY, "out of memory");
        goto done;
    }
    add_columns(&w);
    if (!fixed_are_zero(&w) || !add_rows(&w)) {
        status = wf_error_add(e, w.failed ? WF_MEMORY : WF_INTERNAL, "internal error: %s",
                              w.failed ? "out of memory" : "the model is not one of lots");
        goto done;
    }
    wf_model_set_offset(s->lp, wf_model_offset(part->model));
    WF_TRY_GOTO(wf_model_check(s->lp, e));
    s->whole_value = has_whole_values(&w);
    if (!make_dense(&w)) {
        status = wf_error_add(e, WF_MEMORY, "out of memory");
        goto done;
    }
    *out = s;
    return WF_OK;
done:
    wf_shape_free(s);
    return status;
}

void wf_shape_free(struct wf_shape *s)
{
    if (s == NULL)
        return;
    wf_model_free(s->lp);
    wf_arena_free(s->arena);
}

void wf_shape_expand(const struct wf_shape *s, const double *lp_x, double *x)
{
    memset(x, 0, (size_t)wf_model_columns(s->whole) * sizeof *x);
    for (int j = 0; j < s->sums; j++)
        x[s->column_of[j]] = wf_model_integer(s->lp, j) ? round(lp_x[j]) : lp_x[j];
    for (int u = 0; u < s->unit_count; u++)
        for (int k = 0; k < s->units[u].count; k++)
            if (x[s->lots[s->units[u].lots[k]].weight] > 0)
                x[s->units[u].column] = 1;
}
