/* pitching.c: how many cells a wort wants. */
#include "wortfit/process.h"

#include "brewing/range.h"

#define RATE_MOST  10.0
#define PLATO_MOST 40.0

enum wf_status wf_pitch_billion(double rate, double litres, double plato, double *billion)
{
    if (!wf_within(rate, 0, RATE_MOST) || !wf_within(litres, 0, HUGE_VAL) ||
        !wf_within(plato, 0, PLATO_MOST))
        return WF_OUT_OF_RANGE;
    return wf_give(rate * litres * plato, billion); /* 1e6 x 1000 mL / 1e9 */
}
