/*
 * clock.h: how much of the time that a search was given is left, and whether it is to stop.
 */
#ifndef WF_CLOCK_H
#define WF_CLOCK_H

#include "wortfit/solve.h"

struct wf_clock {
    const struct wf_solve_options *options;
    double start;  /* s, monotonic */
    double limit;  /* s from the start */
    double best;   /* the first goal's value of the best recipe so far; NaN: none yet */
    bool answered; /* a recipe is found: where the user set no time, nobody waits much longer */
};

struct wf_clock wf_clock_start(const struct wf_solve_options *o);
double wf_clock_seconds(const struct wf_clock *c); /* since the start */
double wf_clock_left(const struct wf_clock *c);    /* never below 0 */
/* Tells the caller's progress function, if there is one, how things are. */
void wf_clock_tell(const struct wf_clock *c);
bool wf_clock_cancelled(const struct wf_clock *c);

#endif
