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
    bool answered; /* a recipe is found: where the user set no time, nobody waits much longer for a
                      better one */
};

struct wf_clock wf_clock_start(const struct wf_solve_options *o);
double wf_clock_seconds(const struct wf_clock *c); /* since the start */
double wf_clock_left(const struct wf_clock *c);    /* never below 0 */
bool wf_clock_cancelled(const struct wf_clock *c);

#endif
