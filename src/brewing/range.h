/* range.h: the checks at both borders of every law. */
#ifndef WF_RANGE_H
#define WF_RANGE_H

#include "wortfit/status.h"

#include <math.h>
#include <stdbool.h>

/* Finite and in least..most, both included; either may be infinite. */
static inline bool wf_within(double value, double least, double most)
{
    return isfinite(value) && value >= least && value <= most;
}

/* Hands a value over; one that is past what a double holds, of arguments that are each in range, is
 * out of it too. */
static inline enum wf_status wf_give(double value, double *out)
{
    if (!isfinite(value))
        return WF_OUT_OF_RANGE;
    *out = value;
    return WF_OK;
}

#endif
