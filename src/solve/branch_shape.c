#include "solve/branch_shaping.h"

#include "base/alloc.h"
#include "base/try.h"

#include <math.h>
#include <string.h>

/* ---- Which columns are what ------------------------------------------------------------------ */

/* The unit of a use or present column gets one more lot. */
static bool add_to_unit(struct wf_shaping *w, int column, int lot)
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

static bool set_roles(struct wf_shaping *w, const bool *keep)
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
        w->role[item->weight] = WF_ROLE_WEIGHT;
        w->role[item->use] = WF_ROLE_USE;
        if (item->present >= 0) {
            w->role[item->present] = WF_ROLE_PRESENT;
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

static int lp_column(struct wf_shaping *w, int j, double low, double high, double cost,
                     bool integer)
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

static void add_columns(struct wf_shaping *w)
{
    const struct wf_model *m = w->part->model;
    w->s->total = -1;
    w->s->plain = true;
    for (int k = 0; k < w->s->lot_count; k++) {
        struct wf_lot *lot = &w->s->lots[k];
        lot->column = lp_column(w, lot->weight, 0, lot->most,
                                lot->step_cost + wf_shape_spread(w->s, k, lot->most), true);
        lot->sum = lot->column;
    }
    for (int j = 0; j < wf_model_columns(m); j++) {
        if (w->role[j] != WF_ROLE_OTHER || wf_model_low(m, j) == wf_model_high(m, j))
            continue;
        int at = lp_column(w, j, wf_model_low(m, j), wf_model_high(m, j), wf_model_cost(m, j),
                           wf_model_integer(m, j));
        if (j == w->part->total)
            w->s->total = at;
    }
}

/* Only uses are charged, and whole amounts: then every value is whole. */
static bool has_whole_values(const struct wf_shaping *w)
{
    const struct wf_model *m = w->part->model;
    for (int j = 0; j < wf_model_columns(m); j++) {
        double cost = wf_model_cost(m, j);
        if (cost != 0 && (w->role[j] < WF_ROLE_USE || cost != round(cost)))
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
    struct wf_shaping w = {.part = part, .s = s};
    enum wf_status status = WF_MEMORY;
    s->arena = arena;
    s->whole = part->model;
    s->lp = wf_model_new();
    if (s->lp == NULL || !set_roles(&w, keep)) {
        wf_error_add(e, WF_MEMORY, "out of memory");
        goto done;
    }
    add_columns(&w);
    if (!wf_shape_rows(&w)) {
        status = wf_error_add(e, w.failed ? WF_MEMORY : WF_INTERNAL, "internal error: %s",
                              w.failed ? "out of memory" : "the model is not one of lots");
        goto done;
    }
    wf_model_set_offset(s->lp, wf_model_offset(part->model));
    WF_TRY_GOTO(wf_model_check(s->lp, e));
    s->whole_value = has_whole_values(&w);
    if (!wf_shape_dense(&w)) {
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
