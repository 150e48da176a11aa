/*
 * problem.h: a target, a store and a brewhouse brought together: the lots that may be used, with
 * the numbers that the model's rows are made of. SI inside, checked, no JSON, no solver.
 *
 * A problem points into its target, store and brewhouse, which must outlive it.
 */
#ifndef WF_PROBLEM_H
#define WF_PROBLEM_H

#include "wortfit/pantry.h"

/* A malt lot that may go into the grist. */
struct wf_pick_malt {
    const struct wf_malt *lot;
    double step_kg;    /* weighed in multiples of this */
    double least_kg;   /* the least that is worth adding, a multiple of the step */
    double most_kg;    /* stock and physical bound, a multiple of the step; finite */
    double share_most; /* greatest share of the grist, 0..1 */
    double extract;    /* kg extract in the wort per kg */
    double mcu;        /* malt colour units per kg */
    double price;      /* per kg; 0 where not priced, or bought in packs */
    double pack_kg;    /* whole packs are paid for; NaN: by weight */
    double pack_price; /* of one */
    double fresh;      /* 0: the lot that most wants using up .. 1: one that can wait */
};

/* A hop lot that may go into some slot. */
struct wf_pick_hop {
    const struct wf_hop *lot;
    double alpha; /* at brewing, after storage */
    double step_g, least_g, most_g;
    double price;              /* per g; 0 where not priced, or bought in packs */
    double pack_g, pack_price; /* as of malt */
    double fresh;
};

/* A hop in a slot. */
struct wf_place {
    size_t slot, hop;            /* indices of the target's slots and the problem's hops */
    struct wf_addition addition; /* what the laws see */
    double late;                 /* share of its weight that speaks in the hop character: 1 or 0 */
};

struct wf_pick_yeast {
    const struct wf_yeast *lot;
    double attenuation; /* apparent, the middle of its range */
    double price;       /* of a pack */
    size_t rank;        /* its place in the target's list: lower is preferred */
    double change;      /* from `from`'s yeast, as WF_GOAL_CHANGE counts it; 0 without one */
};

/* What a search for other recipes asks beside the target's wishes, of some malts or some hops. */
enum wf_limit_kind {
    WF_LIMIT_SOME,   /* at least one of them is used */
    WF_LIMIT_FEW,    /* at most `most` of them are used */
    WF_LIMIT_AMOUNT, /* part x weight adds up to the weight of the grist or more; of hops, to 1 */
};

struct wf_limit {
    enum wf_limit_kind kind;
    bool of_hops;
    const double *part; /* one a malt, or one a place; 0: not one of them */
    int most;
};

struct wf_problem {
    const struct wf_target *target;
    const struct wf_store *store;
    const struct wf_brewhouse *brewhouse;
    long today; /* days since 1970-01-01 */
    bool open;  /* its malts are also those that do not belong, and its yeasts any where none that
                  is named is there: for the nearest recipe */
    struct wf_kettle kettle;
    struct wf_slot stand; /* the longest stand slot; stand.minutes 0: none */
    struct wf_pick_malt *malts;
    struct wf_pick_hop *hops;
    struct wf_place *places;
    struct wf_pick_yeast *yeasts; /* in order of rank, then price */
    size_t malt_count, hop_count, place_count, yeast_count;
    struct wf_range og;            /* the target's, its ends within what wort can be */
    double grist_most_kg;          /* no grist of interest weighs more */
    const struct wf_limit *limits; /* not its own; none unless a search sets them */
    size_t limit_count;
    const struct wf_recipe *from; /* what WF_GOAL_CHANGE keeps close to; NULL: nothing */
};

/* Everything is allocated in one block of lists; wf_problem_free releases them. `today`: days since
 * 1970-01-01, WF_NO_DATE for no ageing. */
enum wf_status wf_problem_make(const struct wf_target *t, const struct wf_store *s,
                               const struct wf_brewhouse *b, long today, struct wf_problem *out,
                               struct wf_error *e) WF_MUST_USE;
/* The same but open. */
enum wf_status wf_problem_open(const struct wf_problem *p, struct wf_problem *out,
                               struct wf_error *e) WF_MUST_USE;
void wf_problem_free(struct wf_problem *p);

/* Sets the recipe that WF_GOAL_CHANGE keeps close to; it must outlive the problem. NULL: none. */
void wf_problem_keep_to(struct wf_problem *p, const struct wf_recipe *from);

/* True if the lot's own id or the entry that it is stands in the NULL-terminated list. */
bool wf_id_listed(const char *const *ids, const char *id, const char *of);

/* The bitterness that is wanted at a gravity, IBU: from the ratio or as it stands. */
struct wf_range wf_problem_bitterness(const struct wf_problem *p, double og);

#endif
