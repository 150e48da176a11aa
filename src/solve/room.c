/*
 * How good is good enough by now.
 */
#include "solve/part.h"

#include <math.h>

/* Work (clock.h), some 20 to 40 microseconds each, after which a gap of 0.1 % and of 0.5 % will do.
 */
#define SHORT_WORK 20000
#define LONG_WORK  60000

double wf_search_gap(const struct wf_search_options *o)
{
    long work = wf_clock_patience(o->clock);
    return work > LONG_WORK ? fmax(o->gap, 5e-3) : work > SHORT_WORK ? fmax(o->gap, 1e-3) : o->gap;
}

double wf_search_room(const struct wf_search_options *o, double value)
{
    long work = wf_clock_patience(o->clock);
    double patience = work > LONG_WORK ? 5 : work > SHORT_WORK ? 2 : 1;
    return fmax(wf_search_gap(o) * fabs(value), fmax(patience * o->least_room, 1e-9));
}

double wf_goal_room(enum wf_goal goal)
{
    static const double room[WF_GOAL_COUNT] = {
        [WF_GOAL_COST] = 1e-9,    [WF_GOAL_FEWEST] = 1e-9,
        [WF_GOAL_CLOSEST] = 0.03, /* of the way from an aim to the end of its window */
        [WF_GOAL_USE_UP] = 0.005, /* kg */
        [WF_GOAL_CHANGE] = 0.05,  /* of the steps of revise.h */
    };
    return room[goal];
}

double wf_goal_least_unit(enum wf_goal goal)
{
    return goal == WF_GOAL_CLOSEST || goal == WF_GOAL_CHANGE ? 1 : 1e-9;
}
