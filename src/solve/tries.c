#include "solve/tries.h"

#include "base/try.h"

#include <math.h>

/* Linear programs, some 20 to 40 microseconds each; and, where the user set a time, seconds. */
static const struct {
    long work;
    double seconds;
} tries[] = {{1500, 0.05}, {12000, 0.4}, {80000, HUGE_VAL}};
_Static_assert(WF_COUNT_OF(tries) == WF_TRIES, "one row a try");

#define WHOLE_WORK 120000

void wf_tries_start(struct wf_clock *whole)
{
    whole->work = 0;
    whole->enough = WHOLE_WORK;
    whole->answered = false;
}

struct wf_clock wf_try_clock(const struct wf_clock *whole, int number)
{
    struct wf_clock c = *whole;
    c.work = 0;
    c.answered = false;
    c.best = NAN;
    if (c.options->seconds > 0)
        c.limit = fmin(c.limit, wf_clock_seconds(&c) + tries[number].seconds);
    else
        c.enough = tries[number].work;
    return c;
}
