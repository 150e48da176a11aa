/*
 * Sets of which one unit more may be in: a count that is used up but for one, or the units of one
 * size. The linear program makes up the one unit out of parts of many, and to decide one of them
 * changes little. So the set is split at its mean in some row, such as the colour of a kilogram:
 * the one is among those below, or among the rest (special ordered sets: Beale and Tomlin 1970).
 * The row is the one in which the parts lie furthest apart.
 */
#include "solve/branch_split.h"

#include <math.h>

#define USED 1e-9 /* part of a greatest weight: less is rounding */

/* ---- Sets ------------------------------------------------------------------------------------ */

static int sets(const struct wf_tree *t)
{
    return t->s->count_rows + t->s->size_count;
}

struct set {
    const int *units;
    int count;
    double most; /* of its units */
};

static struct set set_of(const struct wf_tree *t, int index)
{
    const struct wf_shape *s = t->s;
    if (index < s->count_rows)
        return (struct set){s->counts[index].units, s->counts[index].count,
                            floor(s->counts[index].high + 1e-9)};
    const struct wf_size *z = &s->sizes[index - s->count_rows];
    return (struct set){z->units, z->count, floor(t->high[z->column] + 1e-9)};
}

/* What a kilogram of the unit adds to the row; -1: to the cost. */
static double key_of(const struct wf_shape *s, int row, int unit)
{
    int lot = s->units[unit].lots[0];
    double each = row < 0 ? s->lots[lot].step_cost
                          : s->dense[(size_t)row * (size_t)s->lot_count + (size_t)lot];
    return each / s->lots[lot].step;
}

static double used_part(const struct wf_tree *t, int unit)
{
    const struct wf_unit *u = &t->s->units[unit];
    double part = 0;
    for (int k = 0; k < u->count; k++)
        part = fmax(part, t->x[u->lots[k]] / t->s->lots[u->lots[k]].most);
    return part > USED ? part : 0;
}

/* Whether one unit more may be in. Those that are in by what the counts say, and not by the path
 * itself, would be out on one side: then the set is left alone. */
static bool one_left(const struct wf_tree *t, const struct set *set)
{
    int in = 0, used = 0;
    for (int i = 0; i < set->count; i++) {
        int unit = set->units[i];
        enum wf_lot_state state = wf_tree_unit(t, unit);
        if (state == WF_LOT_IN && !t->settled[unit])
            return false;
        in += state == WF_LOT_IN;
        used += state == WF_LOT_OPEN && used_part(t, unit) > 0;
    }
    return used > 1 && set->most - in > 0.5 && set->most - in < 1.5;
}

/* ---- Where to split -------------------------------------------------------------------------- */

struct spread {
    double weight, sum, squares; /* of the parts that are used */
    double low, high;            /* all that are open */
};

static struct spread spread_in(const struct wf_tree *t, const struct set *set, int row)
{
    struct spread s = {.low = INFINITY, .high = -(double)INFINITY};
    for (int i = 0; i < set->count; i++) {
        int unit = set->units[i];
        if (wf_tree_unit(t, unit) != WF_LOT_OPEN)
            continue;
        double key = key_of(t->s, row, unit), part = used_part(t, unit);
        s.weight += part;
        s.sum += part * key;
        s.squares += part * key * key;
        s.low = fmin(s.low, key);
        s.high = fmax(s.high, key);
    }
    return s;
}

/* Half way between the used parts on both sides of their mean. */
static double threshold(const struct wf_tree *t, const struct set *set, int row, double mean)
{
    double below = -(double)INFINITY, above = INFINITY;
    for (int i = 0; i < set->count; i++) {
        int unit = set->units[i];
        if (wf_tree_unit(t, unit) != WF_LOT_OPEN || !(used_part(t, unit) > 0))
            continue;
        double key = key_of(t->s, row, unit);
        if (key < mean)
            below = fmax(below, key);
        else
            above = fmin(above, key);
    }
    return isfinite(below) && isfinite(above) ? (below + above) / 2 : (double)NAN;
}

static void consider(const struct wf_tree *t, const struct set *set, struct wf_split split,
                     struct wf_split best[], int room, int *count)
{
    struct spread s = spread_in(t, set, split.row);
    double mean = s.sum / s.weight, variance = s.squares / s.weight - mean * mean;
    if (!(s.high - s.low > 1e-12) || !(variance > 0))
        return;
    split.apart = sqrt(variance) / (s.high - s.low);
    split.at = threshold(t, set, split.row, mean);
    if (isnan(split.at) || !(split.apart > 1e-6))
        return;
    int at = *count < room ? (*count)++ : room - 1;
    if (at == room - 1 && *count == room && best[at].apart >= split.apart)
        return;
    for (; at > 0 && best[at - 1].apart < split.apart; at--)
        best[at] = best[at - 1];
    best[at] = split;
}

int wf_tree_splits(const struct wf_tree *t, struct wf_split best[], int room)
{
    int count = 0;
    for (int i = 0; i < room; i++)
        best[i] = (struct wf_split){.apart = 0};
    for (int index = 0; index < sets(t); index++) {
        struct set set = set_of(t, index);
        if (!one_left(t, &set))
            continue;
        for (int k = -1; k < t->s->wide_count; k++)
            consider(t, &set, (struct wf_split){.set = index, .row = k < 0 ? -1 : t->s->wide[k]},
                     best, room, &count);
    }
    return count;
}

/* ---- The sides ------------------------------------------------------------------------------- */

static bool is_in(const struct wf_tree *t, int unit)
{
    const struct wf_unit *u = &t->s->units[unit];
    for (int k = 0; k < u->count; k++)
        if (t->state[u->lots[k]] == WF_LOT_IN || t->low[u->lots[k]] >= 1)
            return true;
    return false;
}

void wf_tree_leave_out(const struct wf_tree *t, const struct wf_node *side,
                       void (*out)(void *self, int lot), void *self)
{
    struct set set = set_of(t, side->column - wf_model_columns(t->s->lp));
    for (int i = 0; i < set.count; i++) {
        const struct wf_unit *u = &t->s->units[set.units[i]];
        double key = key_of(t->s, side->row, set.units[i]);
        if ((key >= side->low && key < side->high) || is_in(t, set.units[i]))
            continue;
        for (int k = 0; k < u->count; k++)
            out(self, u->lots[k]);
    }
}
