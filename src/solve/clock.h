/*
 * clock.h: how much of a search is left, and whether it is to stop.
 *
 * A search ends by the time that the user gave it, or else by work: linear programs solved, which
 * are the same on every machine, so that the same input gives the same recipe. Only where a search
 * is long past what is worth waiting for does time end it that no user has set.
 */
#ifndef WF_CLOCK_H
#define WF_CLOCK_H

#include "wortfit/solve.h"

struct wf_clock {
    const struct wf_solve_options *options;
    double start;     /* s, monotonic */
    double limit;     /* s from the start */
    double best;      /* the first goal's value of the best recipe so far; NaN: none yet */
    bool answered;    /* a recipe is found: less work is worth it from now on */
    long work;        /* linear programs solved, large ones counting for several */
    long answered_at; /* work when it was found */
    long enough;      /* work after which to stop, where the user set no time */
    long told;        /* work when the caller was last told */
    long grace;       /* work that may be done in any case, of what is left of the time */
};

struct wf_clock_ends {
    long enough;
    double limit;
};

double wf_seconds_now(void); /* monotonic, from any start */
struct wf_clock wf_clock_start(const struct wf_solve_options *o);
double wf_clock_seconds(const struct wf_clock *c); /* since the start */
double wf_clock_left(const struct wf_clock *c);    /* s; 0 also where the work is enough */
/* Work done as far as it bears on what is good enough: 0 where the user set a time, since then all
 * of it is used for the proof. */
long wf_clock_patience(const struct wf_clock *c);
/* Leaves half of what is left, for one of several searches; gives the ends to set back after it. */
struct wf_clock_ends wf_clock_halve(struct wf_clock *c);
void wf_clock_restore(struct wf_clock *c, struct wf_clock_ends ends);
/* A recipe is found. */
void wf_clock_answer(struct wf_clock *c);
/* Tells the caller's progress function, if there is one, how things are, now and then. */
void wf_clock_tell(struct wf_clock *c);
bool wf_clock_cancelled(const struct wf_clock *c);

#endif
