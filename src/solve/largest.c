/* largest.c: the most of a beer that a store makes. */
#include "wortfit/scale.h"

#include "base/try.h"
#include "model/joint_model.h"
#include "solve/solve_parts.h"

#include <math.h>

/* Any recipe will do here; the best one is searched for once the batch is known. */
#define ANY_GAP 1.0
/* What one search may take: of the time that is left, where the user set it, and else work
 * (clock.h). */
#define TIME_SHARE    (1.0 / 3)
#define LEAST_SECONDS 0.2
#define ASK_WORK      40000

struct ask {
    const struct wf_target *t;
    const struct wf_store *s;
    const struct wf_brewhouse *b;
    const struct wf_solve_options *o;
    struct wf_clock clock;
    double step_l;
    struct wf_error *e;
};

static enum wf_status make_problem(const struct ask *a, double litres, struct wf_brewhouse *b,
                                   struct wf_problem *p)
{
    *b = *a->b;
    b->batch_l = litres;
    b->batch_given = true;
    return wf_solve_problem(a->t, a->s, b, a->o, p, a->e);
}

/* ---- The relaxation -------------------------------------------------------------------------- */

/*
 * Weights of any size, grist and hops in one linear program. All of it but the stock grows with the
 * batch, so where a batch cannot be made no larger one can.
 */
static enum wf_status may_be(const struct ask *a, double litres, bool *may)
{
    const struct wf_solver_options o = {.relax = true, .cutoff = (double)NAN};
    struct wf_brewhouse b;
    struct wf_problem p;
    struct wf_solution s = {0};
    struct wf_model *m = NULL;
    enum wf_status status;
    WF_TRY(make_problem(a, litres, &b, &p));
    WF_TRY_GOTO(wf_joint_model_make(&p, NULL, WF_GOAL_COST, &m, a->e));
    WF_TRY_GOTO(wf_solver_run(m, &o, &s, a->e));
    *may = s.outcome != WF_OUTCOME_INFEASIBLE;
done:
    wf_solution_clear(&s);
    wf_model_free(m);
    wf_problem_free(&p);
    return status;
}

/* The greatest number of steps that the relaxation allows, 0 for none. */
static enum wf_status greatest_relaxed(const struct ask *a, long *steps)
{
    long low = 0, high = (long)floor(WF_LARGEST_BATCH_L / a->step_l);
    bool may;
    WF_TRY(may_be(a, (double)high * a->step_l, &may));
    if (may)
        return wf_error_add(a->e, WF_BAD_INPUT,
                            "the stock sets no end to the batch: the largest one needs lots that "
                            "say how much there is, such as \"have\": \"4.5 kg\"");
    while (high - low > 1) {
        long middle = low + (high - low) / 2;
        WF_TRY(may_be(a, (double)middle * a->step_l, &may));
        if (may)
            low = middle;
        else
            high = middle;
    }
    *steps = low;
    return WF_OK;
}

/* ---- Whole recipes --------------------------------------------------------------------------- */

static enum wf_status has_recipe(const struct ask *a, long steps, bool *has)
{
    double left = fmax(LEAST_SECONDS, TIME_SHARE * wf_clock_left(&a->clock));
    struct wf_solve_options o = {.gap = ANY_GAP,
                                 .seconds = a->o->seconds > 0 ? left : 0,
                                 .today = a->o->today,
                                 .cancel = a->o->cancel,
                                 .progress = a->o->progress,
                                 .progress_data = a->o->progress_data};
    struct wf_clock clock = wf_clock_start(&o);
    enum wf_goal goals[WF_GOAL_COUNT];
    struct wf_search_options options = wf_solve_search_options(&o, goals, &clock);
    struct wf_brewhouse b;
    struct wf_problem p;
    struct wf_answer answer;
    clock.enough = ASK_WORK;
    WF_TRY(make_problem(a, (double)steps * a->step_l, &b, &p));
    enum wf_status status = wf_solve_search(&p, &options, &answer, a->e);
    if (status == WF_OK) {
        *has = answer.kg != NULL;
        wf_answer_clear(&answer);
    }
    wf_problem_free(&p);
    return status;
}

/*
 * From the bound down in strides that double, since it is seldom far off, and then between the last
 * two strides.
 */
static enum wf_status greatest_whole(const struct ask *a, long most, long *steps)
{
    long low = most, high = most + 1, stride = 1;
    bool has = false;
    while (low > 0) {
        WF_TRY(has_recipe(a, low, &has));
        if (has)
            break;
        high = low;
        low = low > stride ? low - stride : low > 1 ? 1 : 0;
        stride *= 2;
    }
    while (has && high - low > 1) {
        long middle = low + (high - low) / 2;
        bool here;
        WF_TRY(has_recipe(a, middle, &here));
        if (here)
            low = middle;
        else
            high = middle;
    }
    *steps = has ? low : 0;
    return WF_OK;
}

enum wf_status wf_solve_largest(const struct wf_target *t, const struct wf_store *s,
                                const struct wf_brewhouse *b, const struct wf_solve_options *o,
                                double step_l, double *litres, struct wf_error *e)
{
    const struct ask a = {t, s, b, o, wf_clock_start(o), step_l, e};
    long most = 0, steps;
    *litres = (double)NAN;
    WF_TRY(greatest_relaxed(&a, &most));
    WF_TRY(greatest_whole(&a, most, &steps));
    if (steps > 0)
        *litres = (double)steps * step_l;
    return WF_OK;
}
