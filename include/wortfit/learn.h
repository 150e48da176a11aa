/*
 * learn.h: what a log of brews says of a brewhouse: estimates that a slip in the log does not move,
 * how far they vary from brew to brew, and from how many brews they are.
 *
 * Values: the Hodges-Lehmann estimate of what lies within three spreads of the median; what
 * does not, most often a slip, is set aside (F. Hampel's identifier: L. Davies, U. Gather, Journal
 * of the American Statistical Association 88, 1993). Efficiency and attenuation as they are, rates
 * and ratios by their logarithms. A value counts once three brews tell it.
 *
 * Spreads: Qn of the logarithms of what a brew gave over what it should have given, a share (0.03
 * is 3 %) as in sure.h. Of few brews a spread tells little: the default one counts as if it had
 * been seen in four brews before (a scaled inverse chi-square prior: A. Gelman and others, Bayesian
 * Data Analysis, 3rd ed. 2013, chapter 2.6). That of bitterness is less what the spread of the
 * hops' alpha acid makes of it.
 *
 * Efficiency falls with strength where six brews or more, whose gravities lie 0.015 apart or
 * further, say so: the 90 % interval of the Theil-Sen slope against the planned strength lies below
 * 0.
 *
 * The last 500 brews of a log are looked at. Brews whose figures cannot be, and those that the log
 * says were brewed in a brewhouse of another name, are left out and counted.
 */
#ifndef WORTFIT_LEARN_H
#define WORTFIT_LEARN_H

#include "wortfit/brew.h"

#define WF_LEARN_LEAST       3
#define WF_LEARN_LEAST_FALL  6
#define WF_LEARN_SPAN        0.015 /* of gravities */
#define WF_LEARN_BREWS_MOST  500
#define WF_LEARN_PRIOR_BREWS 4

#define WF_LEARN_ASIDE_MOST 4
struct wf_learned {
    size_t brews; /* that tell it, without those set aside */
    size_t aside;
    long aside_on[WF_LEARN_ASIDE_MOST]; /* brewing days of the first of them */
    double value;                       /* NaN: none does */
    double spread;                      /* from brew to brew, a share; NaN: none */
    double error;                       /* of the value: one standard error, in its unit */
    double now;                         /* what the brewhouse says; NaN: nothing */
    bool enough;                        /* brews to be written down */
};

struct wf_learned_yeast {
    const char *id;                /* the catalogue's, or else the lot's */
    struct wf_learned attenuation; /* its spread is that of all yeasts together */
};

struct wf_learning {
    struct wf_arena *arena;
    struct wf_learned efficiency;  /* at `gravity` */
    double gravity;                /* the median of the brews, to 0.001 */
    struct wf_learned fall;        /* of efficiency for every 0.010: a share; 0: none is seen */
    double fall_low, fall_high;    /* its 90 % interval, where one is seen */
    struct wf_learned evaporation; /* L/h */
    struct wf_learned bitterness, colour; /* measured to what the laws give */
    struct wf_learned_yeast *yeasts;      /* by id */
    size_t yeast_count;
    struct wf_spread spread; /* as they would be written; NaN: nothing was learnt of it */
    size_t brews, left_out;
    size_t elsewhere;       /* brews of other brewhouses, left out, too */
    const char *other_name; /* of the first of those; NULL: there is none */
    bool mixed;       /* the brewhouse has no name, and the log names more than one: all count */
    const char *why;  /* the first was left out; NULL: none was */
    long first, last; /* days */
};

/* `b`: the brewhouse that it is held against, whose law of bitterness and spread of alpha acid
 * count. */
enum wf_status wf_learn(const struct wf_log *l, const struct wf_brewhouse *b,
                        struct wf_learning **out, struct wf_error *e) WF_MUST_USE;
void wf_learning_free(struct wf_learning *l); /* NULL allowed */

/* Whether anything is known of enough brews to be written down. */
bool wf_learning_has_enough(const struct wf_learning *l);
/* The text of a brewhouse with what was learnt of enough brews in it; all else stays as it is. *out
 * is the caller's to wf_text_release (solve.h). */
enum wf_status wf_learning_edit(const struct wf_learning *l, const char *name, const char *text,
                                size_t length, char **out, size_t *out_length,
                                struct wf_error *e) WF_MUST_USE;
/* The same of a file, in place: whole or not at all. */
enum wf_status wf_learning_write(const struct wf_learning *l, const char *path,
                                 struct wf_error *e) WF_MUST_USE;

#endif
