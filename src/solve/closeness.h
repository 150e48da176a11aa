/* closeness.h: the value of the goal `closest` for a beer, as the search has it, from the beer. */
#ifndef WF_CLOSENESS_H
#define WF_CLOSENESS_H

#include "wortfit/pantry.h"

/* How far gravity, colour and bitterness are from their aims, summed: each in units of the side of
 * its window, gravity as extract and colour as malt colour units. NaN: outside the laws' range. */
double wf_closeness(const struct wf_target *t, const struct wf_beer *b);

#endif
