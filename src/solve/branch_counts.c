/*
 * What the linear program is told of counts. A unit is present by no less than the mean of its
 * lots' parts of their greatest weights, and by 1 once it is in (branch_node.c). A greatest count
 * is told size by size, how many units of each are in being whole: a store has many small lots, and
 * to leave out one says nothing while the next one takes its place, where how many of them there
 * are says much.
 */
#include "solve/branch_shaping.h"

#include "base/alloc.h"

#include <math.h>

/* A unit's greatest weight, as the power of two that it reaches. */
static int size_of(const struct wf_shape *s, int unit)
{
    const struct wf_unit *u = &s->units[unit];
    double most = 0;
    for (int k = 0; k < u->count; k++)
        most = fmax(most, s->lots[u->lots[k]].most * s->lots[u->lots[k]].step);
    return (int)floor(log2(fmin(fmax(most, 1e-6), 1e5)));
}

/* Numbers of units are whole, whatever a goal that is held leaves of room. */
static double count_most(const struct wf_count_row *c)
{
    return fmax(0, floor(c->high + 1e-9));
}

static double count_least(const struct wf_count_row *c)
{
    return ceil(c->low - 1e-9);
}

static bool has_most(const struct wf_count_row *c)
{
    return isfinite(c->high) && c->high < c->count;
}

static bool has_least(const struct wf_count_row *c)
{
    return isfinite(c->low) && count_least(c) >= 1;
}

double wf_shape_presence(const struct wf_shape *s, const struct wf_unit *u, int lot)
{
    return 1 / (s->lots[lot].most * u->count);
}

/* ---- Sizes ----------------------------------------------------------------------------------- */

struct counting {
    struct wf_shaping *w;
    bool *member; /* [count row x unit] */
};

static bool is_member(const struct counting *c, int count_row, int unit)
{
    return c->member[count_row * c->w->s->unit_count + unit];
}

/* Of one size, and the same least counts speak of both. */
static bool alike(const struct counting *c, int a, int b)
{
    const struct wf_shape *s = c->w->s;
    if (size_of(s, a) != size_of(s, b))
        return false;
    for (int i = 0; i < s->count_rows; i++)
        if (has_least(&s->counts[i]) && is_member(c, i, a) != is_member(c, i, b))
            return false;
    return true;
}

/* The units of the count that are like the one at `first`; none: they were had with an earlier one.
 * False: out of memory. */
static bool gather(const struct counting *c, int count_row, int first, struct wf_size *out)
{
    const struct wf_count_row *row = &c->w->s->counts[count_row];
    *out = (struct wf_size){.count_row = count_row};
    for (int i = 0; i < first; i++)
        if (alike(c, row->units[i], row->units[first]))
            return true;
    out->units = wf_arena_alloc(c->w->s->arena, (size_t)row->count, sizeof *out->units);
    for (int i = first; out->units != NULL && i < row->count; i++)
        if (alike(c, row->units[i], row->units[first]))
            out->units[out->count++] = row->units[i];
    return out->units != NULL;
}

static void add_size(struct wf_shape *s, struct wf_size *z, int sum)
{
    z->column = wf_model_column(s->lp, 0, fmin(z->count, count_most(&s->counts[z->count_row])), 0,
                                true, "");
    z->row = wf_model_row(s->lp, -(double)INFINITY, 0, "");
    wf_model_term(s->lp, sum, z->column, 1);
    wf_model_term(s->lp, z->row, z->column, -1);
    for (int i = 0; i < z->count; i++) {
        const struct wf_unit *u = &s->units[z->units[i]];
        for (int k = 0; k < u->count; k++)
            wf_model_term(s->lp, z->row, s->lots[u->lots[k]].column,
                          wf_shape_presence(s, u, u->lots[k]));
    }
    s->sizes[s->size_count++] = *z;
}

static bool add_most(const struct counting *c, int count_row)
{
    struct wf_shape *s = c->w->s;
    const struct wf_count_row *row = &s->counts[count_row];
    int sum = wf_model_row(s->lp, -(double)INFINITY, count_most(row), "");
    for (int i = 0; i < row->count; i++) {
        struct wf_size z;
        if (!gather(c, count_row, i, &z))
            return false;
        if (z.count > 0)
            add_size(s, &z, sum);
    }
    return true;
}

/* ---- Least counts ---------------------------------------------------------------------------- */

/* Units of which so many must be in take up as many of a greatest count that speaks of them all. */
static void add_least(const struct counting *c, int least, int most)
{
    struct wf_shape *s = c->w->s;
    int covered = 0, row = -1;
    for (int i = 0; i < s->counts[least].count; i++)
        covered += is_member(c, most, s->counts[least].units[i]);
    if (covered < s->counts[least].count)
        return;
    for (int i = 0; i < s->size_count; i++) {
        if (s->sizes[i].count_row != most || !is_member(c, least, s->sizes[i].units[0]))
            continue;
        if (row < 0)
            row = wf_model_row(s->lp, count_least(&s->counts[least]), INFINITY, "");
        wf_model_term(s->lp, row, s->sizes[i].column, 1);
    }
}

/* ---- The whole ------------------------------------------------------------------------------- */

static bool open_counting(struct counting *c)
{
    struct wf_shape *s = c->w->s;
    size_t cells = (size_t)s->count_rows * (size_t)s->unit_count, sizes = 0;
    for (int i = 0; i < s->count_rows; i++)
        sizes += (size_t)s->counts[i].count;
    c->member = wf_arena_alloc(s->arena, cells + 1, sizeof *c->member);
    s->sizes = wf_arena_alloc(s->arena, sizes + 1, sizeof *s->sizes);
    if (c->member == NULL || s->sizes == NULL)
        return false;
    for (int i = 0; i < s->count_rows; i++)
        for (int k = 0; k < s->counts[i].count; k++)
            c->member[i * s->unit_count + s->counts[i].units[k]] = true;
    return true;
}

bool wf_shape_counts(struct wf_shaping *w)
{
    struct counting c = {.w = w};
    if (!open_counting(&c))
        return false;
    for (int i = 0; i < w->s->count_rows; i++)
        if (has_most(&w->s->counts[i]) && !add_most(&c, i))
            return false;
    for (int i = 0; i < w->s->count_rows; i++)
        for (int k = 0; has_least(&w->s->counts[i]) && k < w->s->count_rows; k++)
            if (has_most(&w->s->counts[k]))
                add_least(&c, i, k);
    return true;
}
