/*
 * tries.h: where many searches lead to one result, most are settled by what little work on them and
 * others shows. So each is tried briefly at first, and longer only while it is in the way.
 */
#ifndef WF_TRIES_H
#define WF_TRIES_H

#include "solve/clock.h"

#define WF_TRIES 3

/* Starts the whole's work anew: where the user set no time, some ten seconds of it. What the tries
 * did is to be added to it. */
void wf_tries_start(struct wf_clock *whole);

/* The clock of try 0, 1, .. of a search, as a part of the whole. A search that ended by itself
 * leaves some of it. */
struct wf_clock wf_try_clock(const struct wf_clock *whole, int number);

#endif
