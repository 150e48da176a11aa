/* range.h: the check at the border of every law. */
#ifndef WF_RANGE_H
#define WF_RANGE_H

#include <math.h>
#include <stdbool.h>

/* Finite and in least..most, both included; either may be infinite. */
static inline bool wf_within(double value, double least, double most)
{
    return isfinite(value) && value >= least && value <= most;
}

#endif
