#include "solve/clock.h"

#include <math.h>
#include <time.h>

/* Where work is to end a search, but the machine is very slow. */
#define LAST_RESORT_SECONDS 120.0
/* Linear programs, some 20 to 40 microseconds each, that are spent on an answer, and on bettering
 * it. */
#define UNANSWERED_WORK 300000
#define ANSWERED_WORK   200000
/* Between two words to whoever waits. */
#define TELL_WORK 500

double wf_seconds_now(void)
{
    struct timespec t;
    clock_gettime(CLOCK_MONOTONIC, &t);
    return (double)t.tv_sec + 1e-9 * (double)t.tv_nsec;
}

struct wf_clock wf_clock_start(const struct wf_solve_options *o)
{
    return (struct wf_clock){.options = o,
                             .start = wf_seconds_now(),
                             .best = NAN,
                             .enough = UNANSWERED_WORK,
                             .limit = o->seconds > 0 ? o->seconds : LAST_RESORT_SECONDS};
}

double wf_clock_seconds(const struct wf_clock *c)
{
    return wf_seconds_now() - c->start;
}

static long work_left(const struct wf_clock *c)
{
    long enough = c->enough;
    if (c->answered && c->answered_at + ANSWERED_WORK < enough)
        enough = c->answered_at + ANSWERED_WORK;
    return enough > c->work ? enough - c->work : 0;
}

double wf_clock_left(const struct wf_clock *c)
{
    if (!(c->options->seconds > 0) && work_left(c) == 0 && c->work >= c->grace)
        return 0;
    return fmax(0, c->limit - wf_clock_seconds(c));
}

struct wf_clock_ends wf_clock_halve(struct wf_clock *c)
{
    const struct wf_clock_ends ends = {c->enough, c->limit};
    c->enough = c->work + work_left(c) / 2;
    if (c->options->seconds > 0)
        c->limit = wf_clock_seconds(c) + wf_clock_left(c) / 2;
    return ends;
}

void wf_clock_restore(struct wf_clock *c, struct wf_clock_ends ends)
{
    c->enough = ends.enough;
    c->limit = ends.limit;
}

void wf_clock_answer(struct wf_clock *c)
{
    if (!c->answered)
        c->answered_at = c->work;
    c->answered = true;
}

long wf_clock_patience(const struct wf_clock *c)
{
    return c->options->seconds > 0 ? 0 : c->work;
}

bool wf_clock_cancelled(const struct wf_clock *c)
{
    return c->options->cancel != NULL && *c->options->cancel;
}

void wf_clock_tell(struct wf_clock *c)
{
    if (c->options->progress == NULL || c->work - c->told < TELL_WORK)
        return;
    c->told = c->work;
    c->options->progress(c->options->progress_data, wf_clock_seconds(c), c->best, (double)NAN);
}
