/*
 * plan_master.h: the plan as a program over recipes that are known: each beer is one of its
 * columns, the lots are rows, and what is bought is columns of its own.
 *
 * Its linear relaxation gives every lot a price at which the beers' own searches look for further
 * columns, and with what these find a bound on all plans (Dantzig & Wolfe, Operations Research 8,
 * 1960; Geoffrion, Mathematical Programming Study 2, 1974). With whole columns it chooses among
 * the recipes that are known.
 */
#ifndef WF_PLAN_MASTER_H
#define WF_PLAN_MASTER_H

#include "solve/plan_column.h"
#include "solve/region.h"

enum wf_plan_goal {
    WF_PLAN_SHORTAGE, /* what the lots lack, in about what it would cost */
    WF_PLAN_LEFT_OUT, /* beers that are not brewed */
    WF_PLAN_MONEY,
    WF_PLAN_WORTH,
};

/* What a plan is asked for. */
struct wf_plan_aim {
    enum wf_plan_goal goal;
    bool optional;   /* beers may be left out */
    double left_out; /* no more of them than this; +inf: not asked */
    double money;    /* no more than this; +inf: not asked */
};

struct wf_master {
    const struct wf_market *market;
    size_t beer_count;
    double *most; /* of each lot that all beers together can take */
    struct wf_plan_column **columns;
    size_t count, room;
};

enum wf_status wf_master_open(struct wf_master *m, const struct wf_market *market,
                              const struct wf_plan_sub *subs, size_t beers,
                              struct wf_error *e) WF_MUST_USE;
void wf_master_close(struct wf_master *m); /* a zeroed one is allowed */
/* Takes the column, also where it fails. */
enum wf_status wf_master_add(struct wf_master *m, struct wf_plan_column *c,
                             struct wf_error *e) WF_MUST_USE;

/* A part of all plans: bounds on the packs of each lot, and lots that a beer must or must not use.
 */
struct wf_plan_limits {
    double *low, *high;
    unsigned char *fate; /* one a beer and lot: enum wf_fate (region.h) */
};
/* Of all plans; or a copy of another's. */
enum wf_status wf_plan_limits_open(struct wf_plan_limits *p, const struct wf_master *m,
                                   const struct wf_plan_limits *of, struct wf_error *e) WF_MUST_USE;
void wf_plan_limits_close(struct wf_plan_limits *p); /* a zeroed one is allowed */
/* Whether a known recipe is in the part. */
bool wf_plan_limits_allow(const struct wf_plan_limits *p, const struct wf_master *m,
                          const struct wf_plan_column *c);

/* Prices of what binds the beers together, each 0 or more, and what follows from them. */
struct wf_prices {
    double *lot;     /* one a lot: for what is taken of it, besides what the aim counts itself */
    double *pack;    /* one a beer and lot: for each pack that the beer takes some of, besides */
    double money;    /* for a unit of money, where there is a limit to it */
    double left_out; /* for a beer left out, likewise */
    size_t lot_count, pack_count;
};
enum wf_status wf_prices_open(struct wf_prices *p, const struct wf_master *m,
                              struct wf_error *e) WF_MUST_USE;
void wf_prices_close(struct wf_prices *p); /* a zeroed one is allowed */
/* to = part x a + (1 - part) x b; `to` may be either. */
void wf_prices_mix(struct wf_prices *to, const struct wf_prices *a, const struct wf_prices *b,
                   double part);

/* Raises prices where that lowers no bound. */
void wf_prices_lift(struct wf_prices *p, const struct wf_master *m, const struct wf_plan_aim *aim,
                    const struct wf_plan_limits *limits);
/* The aim's bound at any prices but for the beers' own parts, each of which is the least price of a
 * recipe, or that of leaving the beer out if that is less. */
double wf_prices_fixed(const struct wf_prices *p, const struct wf_master *m,
                       const struct wf_plan_aim *aim, const struct wf_plan_limits *limits);
double wf_prices_without(const struct wf_prices *p, const struct wf_plan_aim *aim);
/* All that a recipe is charged for an amount of a lot. */
double wf_prices_amount(const struct wf_prices *p, const struct wf_master *m,
                        const struct wf_plan_aim *aim, size_t lot);

/* What the linear program over the known columns says. */
struct wf_master_answer {
    bool feasible;
    double value;
    struct wf_prices prices;
    double *packs; /* one a lot: bought, in its point */
    double *use;   /* one a beer and lot: the part of its recipes in the point that use it */
    double *beer;  /* one a beer: what it costs at these prices, by the known columns */
};
enum wf_status wf_master_answer_open(struct wf_master_answer *a, const struct wf_master *m,
                                     struct wf_error *e) WF_MUST_USE;
void wf_master_answer_close(struct wf_master_answer *a);
enum wf_status wf_master_price(const struct wf_master *m, const struct wf_plan_aim *aim,
                               const struct wf_plan_limits *limits, struct wf_master_answer *out,
                               struct wf_error *e) WF_MUST_USE;

/* A choice of columns; -1: the beer is left out. */
struct wf_plan_choice {
    int *column;  /* one a beer */
    double *lack; /* one a lot; only of a shortage */
    double value; /* of the aim's goal; NaN: none found */
};
enum wf_status wf_plan_choice_open(struct wf_plan_choice *c, const struct wf_master *m,
                                   struct wf_error *e) WF_MUST_USE;
void wf_plan_choice_close(struct wf_plan_choice *c);

/* The best choice of known columns that a short search finds; only those better than c->value are
 * taken. `clock`: of the whole plan, to tell whether the user set a time. */
enum wf_status wf_master_choose(const struct wf_master *m, const struct wf_plan_aim *aim,
                                const struct wf_clock *clock, struct wf_plan_choice *c,
                                struct wf_error *e) WF_MUST_USE;

/* What a choice takes of a lot, but for one beer (SIZE_MAX: of all). */
double wf_plan_choice_use(const struct wf_master *m, const struct wf_plan_choice *c, size_t lot,
                          size_t but);

/* ---- plan_program.c -------------------------------------------------------------------------- */

/* The program over the known columns, which are its first columns. */
struct wf_master_program {
    const struct wf_master *m;
    const struct wf_plan_aim *aim;
    const struct wf_plan_limits *limits; /* NULL: as many as there are */
    struct wf_model *model;
    int *row, *buy, *lack;       /* one a lot; -1: none */
    int *brewed;                 /* row, one a beer */
    int *own;                    /* row, one a beer and lot; -1: none */
    int money_row, left_out_row; /* -1: none */
};
enum wf_status wf_master_program_open(struct wf_master_program *g, const struct wf_master *m,
                                      const struct wf_plan_aim *aim,
                                      const struct wf_plan_limits *limits,
                                      struct wf_error *e) WF_MUST_USE;
void wf_master_program_close(struct wf_master_program *g);

/* What may be bought of a lot at all, and in how many packs. */
double wf_master_buy_most(const struct wf_master *m, size_t lot);
double wf_master_packs_most(const struct wf_master *m, size_t lot);
/* About what a kilogram, a gram or a pack costs: a lack is weighed by it, whatever the prices. */
double wf_lack_notch(enum wf_kind kind);

#endif
