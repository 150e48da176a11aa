#include "solve/clock.h"

#include <math.h>
#include <time.h>

#define DEFAULT_SECONDS  10.0
#define ANSWERED_SECONDS 2.0

static double now(void)
{
    struct timespec t;
    clock_gettime(CLOCK_MONOTONIC, &t);
    return (double)t.tv_sec + 1e-9 * (double)t.tv_nsec;
}

struct wf_clock wf_clock_start(const struct wf_solve_options *o)
{
    return (struct wf_clock){.options = o,
                             .start = now(),
                             .best = NAN,
                             .limit = o->seconds > 0 ? o->seconds : DEFAULT_SECONDS};
}

double wf_clock_seconds(const struct wf_clock *c)
{
    return now() - c->start;
}

double wf_clock_left(const struct wf_clock *c)
{
    bool enough = c->answered && !(c->options->seconds > 0);
    return fmax(0, (enough ? fmin(c->limit, ANSWERED_SECONDS) : c->limit) - wf_clock_seconds(c));
}

bool wf_clock_cancelled(const struct wf_clock *c)
{
    return c->options->cancel != NULL && *c->options->cancel;
}

void wf_clock_tell(const struct wf_clock *c)
{
    if (c->options->progress != NULL)
        c->options->progress(c->options->progress_data, wf_clock_seconds(c), c->best, (double)NAN);
}
