/*
 * relax.h: a problem as a list of demands, and the same problem with some of them given way.
 *
 * Giving way never takes a recipe away: whatever was one still is. Where a target's own rules would
 * have it otherwise (a rule that lifts a usual greatest share, a thing to use that stands for the
 * yeast), they are held to that.
 */
#ifndef WF_RELAX_H
#define WF_RELAX_H

#include "wortfit/reasons.h"

#include <stdbool.h>

/* ---- Lots of any kind ------------------------------------------------------------------------ */

enum wf_lot_kind { WF_LOT_MALT, WF_LOT_HOP, WF_LOT_YEAST, WF_LOT_KINDS };

struct wf_lot_ids {
    const char *id, *of, *name;
};

size_t wf_lots(const struct wf_store *s, enum wf_lot_kind kind);
struct wf_lot_ids wf_lot_ids(const struct wf_store *s, enum wf_lot_kind kind, size_t i);

/* The first lot of that name, or that is that entry. */
bool wf_find_lot(const struct wf_store *s, const char *id, struct wf_lot_ids *out);

/* ---- Demands --------------------------------------------------------------------------------- */

struct wf_relax {
    const struct wf_target *t; /* its doses as they are met on this scale, else as it was given */
    const struct wf_store *s, *shop; /* shop: NULL: none */
    const struct wf_demand *demands; /* the most telling first; those of the store last */
    size_t count, stock;             /* demands; the first of the store's */
    /* What the shop sells and the store has not, as places in the shop's lists. A lot's place is
     * counted on through both: the store's, then these. */
    const size_t *lacking[WF_LOT_KINDS];
    size_t lacking_count[WF_LOT_KINDS];
};

/* Lists and texts in the arena. */
enum wf_status wf_relax_make(const struct wf_target *t, const struct wf_store *s,
                             const struct wf_store *shop, const struct wf_brewhouse *b,
                             struct wf_arena *arena, struct wf_relax *out,
                             struct wf_error *e) WF_MUST_USE;

/* Which lots a demand of the store is about. */
enum wf_lot_kind wf_relax_part(const struct wf_relax *r, size_t demand);

/* How a demand gives way. */
struct wf_give {
    size_t demand;
    size_t lot; /* WF_GIVE_ALL: left out; WF_GIVE_END: its end moves to `to`; else a thing is let
                   in, or has the greatest share `to`; or there is `to` of a lot (kg, packs) */
    double to;
};
#define WF_GIVE_ALL ((size_t)-1)
#define WF_GIVE_END ((size_t)-2)

/* Steps of the figure of a demand: the last digit that is written of it, in metric units and in US
 * ones. */
struct wf_demand_scale {
    enum wf_dimension dimension;
    double step, us_step, notch;
    double least, most; /* as far as an end may go */
};
const struct wf_demand_scale *wf_demand_scale(enum wf_demand_kind k);

/* The problem, given way. */
struct wf_relaxed {
    struct wf_arena *arena;
    struct wf_target target;
    struct wf_store store;
};
enum wf_status wf_relaxed_make(const struct wf_relax *r, const struct wf_give *gives, size_t count,
                               struct wf_relaxed *out, struct wf_error *e) WF_MUST_USE;
void wf_relaxed_free(struct wf_relaxed *r); /* a zeroed one is allowed */

/* What some demands keep out, or keep down, and could let in one by one: lots of the store, or what
 * is to be avoided, the last named first. How many there are to look at; 0: the demand is not of
 * that sort. */
size_t wf_relax_things(const struct wf_relax *r, size_t demand);
struct wf_lot_ids wf_relax_thing(const struct wf_relax *r, size_t demand, size_t i);
bool wf_relax_keeps_out(const struct wf_relax *r, size_t demand, size_t i);

#endif
