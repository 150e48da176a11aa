/*
 * reasons.h: where no recipe exists: what cannot hold together, and the least changes that would
 * do.
 *
 * All that stands in a recipe's way is a list of demands: each wish, one end at a time ("colour at
 * most 6 SRM" and "colour at least 4 SRM" are two), and what is in the store. The scale, the least
 * weights and the brewhouse are not up for change.
 *
 * A conflict is a set of demands that no recipe meets, whatever becomes of all the others; without
 * any one of them there is a recipe that meets the rest.
 *
 * A remedy is a change that gives a recipe while all else stays as it was: an end of a wish moved
 * just so far, a thing let in or left out, or just so much more of a lot. One change that suffices
 * must be of a demand of every conflict, so no other demand is looked at. Where no one change does,
 * a remedy is several together. Nothing is guessed: for each a recipe was found, and, where `least`
 * is set, with one step less of it there is proved to be none.
 */
#ifndef WORTFIT_REASONS_H
#define WORTFIT_REASONS_H

#include "wortfit/pantry.h"
#include "wortfit/solve.h"

/* id, word in files */
#define WF_DEMAND_LIST(X)                                                                          \
    X(OG, "og")                                                                                    \
    X(COLOUR, "colour")                                                                            \
    X(RATIO, "ratio")                                                                              \
    X(BITTERNESS, "bitterness")                                                                    \
    X(FG, "fg")                                                                                    \
    X(ABV, "abv")                                                                                  \
    X(SHARE, "share")              /* rules[index] */                                              \
    X(COUNT, "count")              /* rules[index] */                                              \
    X(WORD, "character")           /* wishes[index] */                                             \
    X(USE, "use")                  /* use[index] */                                                \
    X(AVOID, "avoid")              /* what must not be in it */                                    \
    X(ONLY, "only")                /* malts that belong in it */                                   \
    X(YEAST, "yeast")              /* the list of yeasts */                                        \
    X(DOSE, "dose")                /* slots[index] */                                              \
    X(SLOT_HOPS, "slot-hops")      /* slots[index].hops */                                         \
    X(ORIGINS, "origins")          /* slots[index].origins */                                      \
    X(SLOT_WORD, "slot-character") /* slots[index].wishes[part] */                                 \
    X(VARIETIES, "varieties")      /* slots[index].most */                                         \
    X(ATTENUATION, "attenuation")                                                                  \
    X(DIASTATIC, "diastatic")                                                                      \
    X(LOT_SHARE, "lot-share") /* the greatest share that the store's malts[index] is given */      \
    X(USUAL_SHARES, "usual-shares") /* the greatest usual shares of the other malts */             \
    X(MALTS, "malts")               /* the malts in the store, and how much there is of each */    \
    X(HOPS, "hops")                                                                                \
    X(YEASTS, "yeasts")

enum wf_demand_kind {
#define WF_X(id, word) WF_DEMAND_##id,
    WF_DEMAND_LIST(WF_X)
#undef WF_X
        WF_DEMAND_COUNT_OF
};
const char *wf_demand_word(enum wf_demand_kind k);

enum wf_demand_end { WF_END_NONE, WF_END_LEAST, WF_END_MOST };

struct wf_demand {
    enum wf_demand_kind kind;
    enum wf_demand_end end; /* NONE: it is not of a figure */
    size_t index, part;
    const char *subject; /* as in wf_wish_result, or what it speaks of: "caramel character" */
    enum wf_dimension dimension;
    double bound; /* the end; NaN: not of a figure */
};

/* One demand that gives way. */
struct wf_shift {
    struct wf_demand demand;
    /* What it lets in, or asks more of: a lot of the store or of the shop, or something that was to
     * be avoided. NULL: it is a figure's end that moves, or the demand is left out altogether. */
    const char *id, *name; /* ORIGINS: name is the country */
    bool shop;             /* the lot is the shop's, else the store's */
    size_t lot;            /* its place among their malts, hops or yeasts; avoided: of no account */
    /* The new end; the new greatest share; how much of the lot there must be in all, kg or packs.
     * NaN: the demand is left out, or just lets the lot in. */
    double to;
    double more;          /* of a lot: how much must be got, kg or packs; NaN: not of stock */
    double cost;          /* of that, as it is sold; NaN: not priced */
    const char *currency; /* of the cost; "" or NULL */
    bool least;           /* one step less is proved not to do */
};

struct wf_remedy {
    const struct wf_shift *shifts;
    size_t shift_count;
    double notches; /* size of the changes of wishes, in what a brewer would call a notch each */
    bool bought;    /* something must be got */
    double cost;    /* of what must be got; NaN: something has no price, or other money */
    const char *currency; /* of the cost; "" */
    const char *note;     /* said beside its prices, such as that they are invented; or NULL */
};

struct wf_conflict {
    const struct wf_demand *demands;
    size_t demand_count;
    bool irreducible; /* proved, as above; else the time was up, and one of them may be idle */
};

struct wf_reasons {
    struct wf_arena *arena;
    const char *target; /* its name */
    double batch_l;
    const struct wf_conflict *conflicts; /* with no demand in common */
    size_t conflict_count;
    const struct wf_remedy
        *remedies; /* changes of wishes, least first; then what to get, cheapest first */
    size_t remedy_count;
    bool complete; /* all was looked at; else the time was up */
    size_t solves; /* that it took */
    double seconds;
};

/* Of the things to get that would do alone, so many of each kind at most are told: the cheapest. */
#define WF_REMEDIES_BOUGHT 4

/*
 * Why there is no recipe. `shop` sells what the store may lack; NULL: none. What is moved is moved
 * to a figure that can be written in these units, and read again: what a brewer reads will do, and
 * a last digit less will not. Of the options seconds (for all of it; 0: work that takes a few
 * seconds at most, and is the same on every machine), today, cancel and progress count. *out is
 * yours to wf_reasons_free, and stands without what it was made from. No conflict and no remedy:
 * there is a recipe, or the time was too short to rule one out; see `complete`. Fails with
 * WF_MEMORY, WF_CANCELLED, or as wf_solve does for a target that no law covers. Calls share
 * nothing.
 */
enum wf_status wf_solve_reasons(const struct wf_target *t, const struct wf_store *s,
                                const struct wf_store *shop, const struct wf_brewhouse *b,
                                const struct wf_solve_options *o, enum wf_units units,
                                struct wf_reasons **out, struct wf_error *e) WF_MUST_USE;
void wf_reasons_free(struct wf_reasons *r); /* NULL allowed */

#endif
