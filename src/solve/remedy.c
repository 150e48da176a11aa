/*
 * A loosened end never takes a recipe away, so what is enough is known once the least step that is
 * has been found: by doubling from where the end stands, since changes are mostly small, and then
 * by halving.
 */
#include "solve/remedy.h"

#include "base/alloc.h"
#include "base/try.h"

#include <math.h>
#include <string.h>

/* Things that one demand may let in, each a remedy. */
#define LET_IN_MOST 3
#define GRID_ROOM   1e-6 /* of a step */

static double as_told(enum wf_dimension d, enum wf_units units, double figure)
{
    char text[64], why[WF_REASON_MAX];
    wf_quantity_print(d, figure, units, text, sizeof text);
    return wf_quantity_parse(d, text, &figure, why) ? figure : round(figure * 1e9) / 1e9;
}

double wf_stair_at(const struct wf_stair *s, size_t k)
{
    if (k == 0)
        return s->from;
    double step = fabs(s->step);
    double start =
        s->step > 0 ? floor(s->from / step + GRID_ROOM) : ceil(s->from / step - GRID_ROOM);
    double at = (start + (s->step > 0 ? 1 : -1) * (double)k) * step;
    return s->told ? as_told(s->dimension, s->units, at) : round(at * 1e9) / 1e9;
}

/* ---- The least step -------------------------------------------------------------------------- */

struct climb {
    struct wf_inquiry *q;
    struct wf_give *gives;
    size_t count, which;
    const struct wf_stair *stair;
    size_t no, yes; /* greatest k that is not enough, least that is; yes 0: none known */
    bool sure;      /* `no` is proved */
};

static enum wf_status try_step(struct climb *c, size_t k)
{
    enum wf_exists exists;
    c->gives[c->which].to = wf_stair_at(c->stair, k);
    WF_TRY(wf_inquiry_ask(c->q, c->gives, c->count, &exists));
    if (exists == WF_EXISTS_YES) {
        c->yes = k;
    } else {
        c->no = k;
        c->sure = exists == WF_EXISTS_NO;
    }
    return WF_OK;
}

enum wf_status wf_remedy_least(struct wf_inquiry *q, struct wf_give *gives, size_t count,
                               size_t which, const struct wf_stair *stair, bool *found, bool *least)
{
    struct climb c = {q, gives, count, which, stair, 0, 0, true};
    size_t stride = 1;
    *found = *least = false;
    while (c.yes == 0 && c.no < stair->most) {
        size_t k = c.no + stride;
        WF_TRY(try_step(&c, k < stair->most ? k : stair->most));
        stride *= 2;
    }
    while (c.yes > c.no + 1)
        WF_TRY(try_step(&c, c.no + (c.yes - c.no) / 2));
    if (c.yes == 0)
        return WF_OK;
    gives[which].to = wf_stair_at(stair, c.yes);
    *found = true;
    *least = c.sure;
    return WF_OK;
}

/* ---- Remedies -------------------------------------------------------------------------------- */

static enum wf_status make_room(struct wf_inquiry *q, struct wf_remedies *list)
{
    if (list->count < list->room)
        return WF_OK;
    size_t room = 2 * list->room + 16;
    struct wf_remedy *items = wf_arena_alloc(q->arena, room, sizeof *items);
    if (items == NULL)
        return wf_error_add(q->e, WF_MEMORY, "out of memory");
    if (list->count > 0)
        memcpy(items, list->items, list->count * sizeof *items);
    list->items = items;
    list->room = room;
    return WF_OK;
}

/* The arena's own copy of a text; NULL stays NULL. */
static bool own(struct wf_inquiry *q, const char **text)
{
    const char *given = *text;
    *text = wf_arena_string(q->arena, given);
    return given == NULL || *text != NULL;
}

enum wf_status wf_remedies_add(struct wf_inquiry *q, struct wf_remedies *list,
                               const struct wf_remedy *given)
{
    struct wf_remedy r = *given;
    struct wf_shift *shifts = wf_arena_alloc(q->arena, r.shift_count, sizeof *shifts);
    bool good = shifts != NULL && own(q, &r.currency) && own(q, &r.note);
    for (size_t i = 0; good && i < r.shift_count; i++) {
        shifts[i] = r.shifts[i];
        good = own(q, &shifts[i].id) && own(q, &shifts[i].name) && own(q, &shifts[i].currency);
    }
    if (!good)
        return wf_error_add(q->e, WF_MEMORY, "out of memory");
    r.shifts = shifts;
    WF_TRY(make_room(q, list));
    list->items[list->count++] = r;
    return WF_OK;
}

static struct wf_shift shift_of(const struct wf_inquiry *q, const struct wf_give *g, bool least)
{
    const struct wf_demand *d = &q->relax.demands[g->demand];
    struct wf_shift s = {.demand = *d,
                         .to = g->lot == WF_GIVE_ALL ? (double)NAN : g->to,
                         .more = NAN,
                         .cost = NAN,
                         .least = least};
    if (g->lot != WF_GIVE_ALL && g->lot != WF_GIVE_END) {
        struct wf_lot_ids thing = wf_relax_thing(&q->relax, g->demand, g->lot);
        s.id = thing.id;
        s.name = d->kind == WF_DEMAND_ORIGINS ? q->relax.s->hops[g->lot].origin : thing.name;
        s.lot = g->lot;
    }
    return s;
}

/* Where the figure stands that a give moves. */
static double from_of(const struct wf_inquiry *q, const struct wf_give *g)
{
    const struct wf_demand *d = &q->relax.demands[g->demand];
    return d->kind == WF_DEMAND_USUAL_SHARES ? q->relax.s->malts[g->lot].usual_most : d->bound;
}

static bool is_figure(const struct wf_inquiry *q, size_t demand)
{
    return q->relax.demands[demand].end != WF_END_NONE;
}

/* As far as that end may go. */
static double last_of(const struct wf_inquiry *q, const struct wf_give *g)
{
    const struct wf_demand *d = &q->relax.demands[g->demand];
    const struct wf_demand_scale *scale = wf_demand_scale(d->kind);
    return d->end == WF_END_LEAST ? scale->least : scale->most;
}

static double notches_of(const struct wf_inquiry *q, const struct wf_give *g)
{
    const struct wf_demand_scale *scale = wf_demand_scale(q->relax.demands[g->demand].kind);
    double to = g->to;
    if (g->lot == WF_GIVE_ALL && is_figure(q, g->demand))
        to = last_of(q, g);
    return isnan(to) ? WF_NOTCHES_NO_FIGURE : fabs(to - from_of(q, g)) / scale->notch;
}

static struct wf_stair stair_of(const struct wf_inquiry *q, const struct wf_give *g)
{
    const struct wf_demand *d = &q->relax.demands[g->demand];
    const struct wf_demand_scale *scale = wf_demand_scale(d->kind);
    bool up = d->end != WF_END_LEAST;
    double from = from_of(q, g), end = last_of(q, g);
    double step = q->units == WF_UNITS_US ? scale->us_step : scale->step;
    double steps = ceil(fabs(end - from) / step - GRID_ROOM);
    return (struct wf_stair){.from = from,
                             .step = up ? step : -step,
                             .most = (size_t)fmax(0, steps),
                             .told = true,
                             .dimension = scale->dimension,
                             .units = q->units};
}

/* Makes the give in hand, which does as it is with all that it stands for left out, as small as it
 * can be. A figure that must go as far as it may stays left out. */
static enum wf_status shrink(struct wf_inquiry *q, struct wf_give *gives, size_t count,
                             size_t which, bool *least)
{
    struct wf_give *g = &gives[which], whole = *g;
    bool found;
    *least = true;
    if (g->lot == WF_GIVE_ALL && !is_figure(q, g->demand))
        return WF_OK;
    if (g->lot == WF_GIVE_ALL)
        g->lot = WF_GIVE_END;
    else if (isnan(g->to))
        return WF_OK;
    struct wf_stair stair = stair_of(q, g);
    WF_TRY(wf_remedy_least(q, gives, count, which, &stair, &found, least));
    if (!found || (is_figure(q, g->demand) && !(fabs(g->to - last_of(q, g)) > stair.from * 1e-12)))
        *g = whole;
    return WF_OK;
}

/* ---- Of one wish ----------------------------------------------------------------------------- */

static enum wf_status add_one(struct wf_inquiry *q, struct wf_give g, struct wf_remedies *out)
{
    bool least;
    WF_TRY(shrink(q, &g, 1, 0, &least));
    const struct wf_shift shift = shift_of(q, &g, least);
    const struct wf_remedy r = {.shifts = &shift,
                                .shift_count = 1,
                                .notches = notches_of(q, &g),
                                .cost = NAN,
                                .currency = ""};
    return wf_remedies_add(q, out, &r);
}

/* A thing at its most: let in; a greatest share all the grist. */
static struct wf_give let_in(const struct wf_inquiry *q, size_t demand, size_t thing)
{
    bool share = q->relax.demands[demand].kind == WF_DEMAND_USUAL_SHARES;
    return (struct wf_give){demand, thing, share ? 1 : (double)NAN};
}

/* Of gives[0..count), those that do alone: halves of which nothing does are passed over. */
static enum wf_status let_in_some(struct wf_inquiry *q, const struct wf_give *gives, size_t count,
                                  size_t *left, struct wf_remedies *out)
{
    enum wf_exists exists;
    if (*left == 0 || count == 0)
        return WF_OK;
    WF_TRY(wf_inquiry_ask(q, gives, count, &exists));
    if (exists != WF_EXISTS_YES)
        return WF_OK;
    if (count == 1) {
        --*left;
        return add_one(q, gives[0], out);
    }
    WF_TRY(let_in_some(q, gives, count / 2, left, out));
    return let_in_some(q, gives + count / 2, count - count / 2, left, out);
}

static enum wf_status let_in_things(struct wf_inquiry *q, size_t demand, struct wf_remedies *out)
{
    size_t things = wf_relax_things(&q->relax, demand), count = 0, left = LET_IN_MOST;
    struct wf_give *gives = wf_alloc(things, sizeof *gives);
    if (gives == NULL)
        return wf_error_add(q->e, WF_MEMORY, "out of memory");
    for (size_t i = 0; i < things; i++)
        if (wf_relax_keeps_out(&q->relax, demand, i))
            gives[count++] = let_in(q, demand, i);
    enum wf_status status = let_in_some(q, gives, count, &left, out);
    wf_free(gives);
    return status;
}

enum wf_status wf_remedy_of_wish(struct wf_inquiry *q, size_t demand, struct wf_remedies *out)
{
    const struct wf_give whole = {demand, WF_GIVE_ALL, NAN};
    enum wf_exists exists;
    size_t before = out->count;
    WF_TRY(wf_inquiry_ask(q, &whole, 1, &exists));
    if (exists != WF_EXISTS_YES)
        return WF_OK;
    if (wf_relax_things(&q->relax, demand) > 0)
        WF_TRY(let_in_things(q, demand, out));
    return out->count > before ? WF_OK : add_one(q, whole, out);
}

/* ---- Of several ------------------------------------------------------------------------------ */

enum wf_status wf_remedy_take_back(struct wf_inquiry *q, struct wf_give *gives, size_t *count)
{
    for (size_t i = 0; i < *count;) {
        enum wf_exists exists;
        struct wf_give g = gives[i];
        memmove(&gives[i], &gives[i + 1], (*count - i - 1) * sizeof *gives);
        WF_TRY(wf_inquiry_ask(q, gives, *count - 1, &exists));
        if (exists == WF_EXISTS_YES) {
            --*count;
            continue;
        }
        memmove(&gives[i + 1], &gives[i], (*count - i - 1) * sizeof *gives);
        gives[i++] = g;
    }
    return WF_OK;
}

static enum wf_status shrink_all(struct wf_inquiry *q, struct wf_give *gives, size_t count,
                                 struct wf_shift *shifts, struct wf_remedies *out)
{
    struct wf_remedy r = {.shifts = shifts, .shift_count = count, .cost = NAN, .currency = ""};
    for (size_t i = 0; i < count; i++) {
        bool least;
        WF_TRY(shrink(q, gives, count, i, &least));
        shifts[i] = shift_of(q, &gives[i], least);
        r.notches += notches_of(q, &gives[i]);
    }
    return wf_remedies_add(q, out, &r);
}

enum wf_status wf_remedy_of_several(struct wf_inquiry *q, const bool *aside,
                                    struct wf_remedies *out)
{
    struct wf_give *gives = wf_alloc(q->relax.count, sizeof *gives);
    struct wf_shift *shifts = wf_alloc(q->relax.count, sizeof *shifts);
    enum wf_status status = WF_MEMORY;
    size_t count = 0;
    if (gives == NULL || shifts == NULL) {
        wf_error_add(q->e, WF_MEMORY, "out of memory");
        goto done;
    }
    for (size_t i = 0; i < q->relax.stock; i++)
        if (aside[i])
            gives[count++] = (struct wf_give){i, WF_GIVE_ALL, NAN};
    WF_TRY_GOTO(wf_remedy_take_back(q, gives, &count));
    status = shrink_all(q, gives, count, shifts, out);
done:
    wf_free(gives);
    wf_free(shifts);
    return status;
}
