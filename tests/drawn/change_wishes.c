/* change_wishes.c: one wish loosened, or taken back. */
#include "drawn/change.h"

#include <math.h>

static size_t below(struct dice *d, size_t count)
{
    return (size_t)dice_whole(d, 0, (long)count - 1);
}

/* By a hair, by a half, by much, or for good; in multiples of `unit`. */
static void widen(struct dice *d, struct wf_range *r, double unit)
{
    static const long by[] = {1, 1, 5, 20, 100};
    size_t how = below(d, 6);
    if (how == 5 || wf_range_is_any(*r)) {
        *r = wf_range_any();
        return;
    }
    r->low = fmax(r->low < 0 ? r->low : 0, r->low - unit * (double)by[how]);
    r->high += unit * (double)dice_whole(d, 0, by[how]);
}

/* ---- Figures --------------------------------------------------------------------------------- */

/* The gravity stays one of worts, and stays a wish: without one there is no beer to speak of. */
static bool gravity(struct gen *base, struct dice *d, struct changed *c)
{
    struct wf_range *og = &c->g.target.og;
    (void)base;
    og->low = fmax(1.002, og->low - dice_decimal(d, 0, 60, 1e4));
    og->high = fmin(1.150, og->high + dice_decimal(d, 1, 60, 1e4));
    return true;
}

static bool figure(struct gen *base, struct dice *d, struct changed *c)
{
    struct wf_target *t = &c->g.target;
    const struct {
        struct wf_range *figure;
        double unit;
    } rows[] = {{&t->colour, 0.05},
                {&t->ratio, 0.005},
                {&t->bitterness, 0.1},
                {&t->fg, 0.0002},
                {&t->abv, 0.0005}};
    (void)base;
    size_t count = sizeof rows / sizeof *rows, first = below(d, count);
    for (size_t i = 0; i < count; i++) {
        struct wf_range *r = rows[(first + i) % count].figure;
        if (wf_range_is_any(*r))
            continue;
        widen(d, r, rows[(first + i) % count].unit);
        if (r == &t->fg && isfinite(r->low)) /* no file may hold what the laws do not cover */
            *r = (struct wf_range){fmax(r->low, 0.98), fmin(r->high, 1.1), r->aim};
        return true;
    }
    return false;
}

static bool diastatic(struct gen *base, struct dice *d, struct changed *c)
{
    c->g.target.diastatic = floor(c->g.target.diastatic * dice_decimal(d, 0, 9, 10));
    return base->target.diastatic > 0;
}

/* ---- Rules, words ---------------------------------------------------------------------------- */

/* A rule that names lots may lift their usual greatest share, so it is widened but not dropped. */
static bool rule(struct gen *base, struct dice *d, struct changed *c)
{
    struct wf_rule *rules = (struct wf_rule *)(uintptr_t)c->g.target.rules;
    size_t count = base->target.rule_count, i = below(d, count > 0 ? count : 1);
    if (count == 0)
        return false;
    struct wf_rule *r = &rules[i];
    switch (dice_whole(d, 0, 3)) {
    case 0:
        r->least = r->least > 0 ? r->least - 1 : -1;
        return true;
    case 1:
        r->most = r->most >= 0 ? r->most + 1 : -1;
        return true;
    case 2:
        if (!wf_range_is_any(r->share)) {
            r->share.low = fmax(0, r->share.low - dice_decimal(d, 0, 10, 100));
            r->share.high = fmin(1, r->share.high + dice_decimal(d, 0, 10, 100));
            r->share.aim = (double)NAN;
        }
        return base->target.rules[i].share.low >= 0 && base->target.rules[i].share.high <= 1;
    default:
        if (r->who.ids != NULL)
            return false;
        rules[i] = rules[count - 1];
        c->g.target.rule_count--;
        return true;
    }
}

static bool word(struct gen *base, struct dice *d, struct changed *c)
{
    struct wf_word_wish *wishes = (struct wf_word_wish *)(uintptr_t)c->g.target.wishes;
    size_t count = base->target.wish_count;
    if (count == 0)
        return false;
    size_t i = below(d, count);
    if (dice_chance(d, 50)) {
        widen(d, &wishes[i].index, 0.05);
        return true;
    }
    wishes[i] = wishes[count - 1];
    c->g.target.wish_count--;
    return true;
}

/* ---- Slots ----------------------------------------------------------------------------------- */

static bool slot(struct gen *base, struct dice *d, struct changed *c)
{
    struct wf_slot *slots = (struct wf_slot *)(uintptr_t)c->g.target.slots;
    struct wf_slot *s = &slots[below(d, base->target.slot_count)];
    switch (dice_whole(d, 0, 5)) {
    case 0:
        s->most++;
        return true;
    case 1:
        s->hops = NULL;
        return true;
    case 2:
        s->origins = NULL;
        return true;
    case 3:
        s->wish_count = 0;
        return true;
    case 4: /* an exact dose is met to the nearest step, and then no window may be narrower */
        if (!s->dosed)
            return false;
        s->dose.low = fmax(0, s->dose.low - base->brewhouse.step_hop_g / base->brewhouse.batch_l);
        s->dose.high += base->brewhouse.step_hop_g / base->brewhouse.batch_l + 0.1;
        s->dose.aim = (double)NAN;
        return true;
    default:
        s->dosed = false;
        s->dose = wf_range_any();
        return true;
    }
}

static bool use_or_avoid(struct gen *base, struct dice *d, struct changed *c)
{
    bool use = dice_chance(d, 50);
    if (use)
        c->g.target.use = NULL;
    else
        c->g.target.avoid = NULL;
    return use ? base->target.use != NULL : base->target.avoid != NULL;
}

const struct change wish_changes[] = {
    {"a looser gravity", gravity, true},
    {"a looser figure", figure, true},
    {"less enzymes", diastatic, true},
    {"a looser rule", rule, true},
    {"a looser word", word, true},
    {"a looser slot", slot, true},
    {"nothing to use or avoid", use_or_avoid, true},
    {NULL, NULL, false},
};
