#include "solve/joint.h"

#include "base/alloc.h"
#include "base/try.h"

#include <math.h>
#include <string.h>

/* Windows looked at, at most, and the narrowest that is split: a tenth of what a hydrometer shows.
 */
#define SPANS_MOST  24
#define SPAN_LEAST  5e-5
#define SPAN_MARGIN 1e-7

struct span {
    double low, high; /* SG */
    double bound;     /* of the first goal over this window */
};

struct joint {
    const struct wf_problem *p;
    const struct wf_pick_yeast *yeast;
    const struct wf_search_options *o;
    struct wf_answer
        best; /* its arrays stand from the start; `found` says whether they are filled */
    bool found;
    double *kg, *grams; /* of the window in hand */
    struct wf_error *e;
    struct span open[SPANS_MOST + 2];
    size_t open_count, looked_at;
    double closed_bound; /* least bound of what is settled */
};

enum wf_status wf_grist_gravity(const struct wf_problem *p, const double *kg, double *og)
{
    double extract = 0;
    for (size_t i = 0; i < p->malt_count; i++)
        extract += kg[i] * p->malts[i].extract;
    return wf_gravity_from_extract(extract / p->kettle.batch_l, og);
}

static bool has_goal(const struct joint *j, enum wf_goal goal)
{
    for (size_t k = 0; k < j->o->goal_count; k++)
        if (j->o->goals[k] == goal)
            return true;
    return false;
}

/* ---- The two parts --------------------------------------------------------------------------- */

struct grist_self {
    struct wf_grist_model *g;
    const struct wf_problem *p;
};

static void set_grist_goal(void *self, enum wf_goal goal)
{
    struct grist_self *s = self;
    wf_grist_model_goal(s->g, s->p, goal);
}

static enum wf_status search_grist(struct joint *j, const struct span *s,
                                   struct wf_part_answer *out)
{
    struct wf_grist_options g = {.og_low = s->low,
                                 .og_high = s->high,
                                 .yeast = j->yeast,
                                 .aims = has_goal(j, WF_GOAL_CLOSEST)};
    struct wf_grist_model m;
    struct wf_search_options o = *j->o;
    WF_TRY(wf_grist_model_make(j->p, &g, &m, j->e));
    struct grist_self self = {&m, j->p};
    struct wf_part part = {m.model, m.items, m.item_count, m.total, true, set_grist_goal, &self};
    o.cutoff = NAN;
    enum wf_status status = wf_search(&part, &o, out, j->e);
    if (status == WF_OK && out->x != NULL)
        wf_grist_model_weights(&m, out->x, j->kg);
    wf_grist_model_free(&m);
    return status;
}

struct hop_self {
    struct wf_hop_model *h;
    const struct wf_problem *p;
};

static void set_hop_goal(void *self, enum wf_goal goal)
{
    struct hop_self *s = self;
    wf_hop_model_goal(s->h, s->p, goal);
}

static enum wf_status search_hops(struct joint *j, double low, double high,
                                  struct wf_part_answer *out, double *grams)
{
    struct wf_hop_options h = {.og_low = low,
                               .og_high = high,
                               .aims = has_goal(j, WF_GOAL_CLOSEST),
                               .counted = has_goal(j, WF_GOAL_FEWEST)};
    struct wf_hop_model m;
    struct wf_search_options o = *j->o;
    WF_TRY(wf_hop_model_make(j->p, &h, &m, j->e));
    struct hop_self self = {&m, j->p};
    struct wf_part part = {m.model, m.items, m.item_count, -1, !m.counted, set_hop_goal, &self};
    o.cutoff = NAN;
    enum wf_status status = wf_search(&part, &o, out, j->e);
    if (status == WF_OK && out->x != NULL && grams != NULL)
        wf_hop_model_grams(&m, out->x, grams);
    wf_hop_model_free(&m);
    return status;
}

/* ---- Windows --------------------------------------------------------------------------------- */

static bool settled(const struct joint *j, double bound)
{
    double value = j->best.value[0];
    return j->found ? bound >= value - j->o->gap * fmax(fabs(value), 1e-9)
                    : isfinite(j->o->cutoff) && bound >= j->o->cutoff;
}

static void push(struct joint *j, double low, double high, double bound)
{
    bool full = j->open_count + j->looked_at >= SPANS_MOST;
    if (settled(j, bound) || high - low < SPAN_LEAST || full)
        j->closed_bound = fmin(j->closed_bound, bound);
    else
        j->open[j->open_count++] = (struct span){low, high, bound};
}

static struct span pop_least(struct joint *j)
{
    size_t least = 0;
    for (size_t i = 1; i < j->open_count; i++)
        if (j->open[i].bound < j->open[least].bound)
            least = i;
    struct span s = j->open[least];
    j->open[least] = j->open[--j->open_count];
    j->looked_at++;
    return s;
}

static bool is_better(const struct joint *j, const double *value)
{
    for (size_t k = 0; j->found && k < j->o->goal_count; k++) {
        double room = 1e-9 * fmax(1, fabs(j->best.value[k]));
        if (fabs(value[k] - j->best.value[k]) > room)
            return value[k] < j->best.value[k];
    }
    return !j->found;
}

/* Keeps the recipe in hand if it is the best yet. The bound of a later goal holds only where every
 * earlier goal's hops cost the same over the whole window as at this gravity; else none is claimed.
 */
static void keep(struct joint *j, double og, const struct wf_part_answer *grist,
                 const struct wf_part_answer *at, const struct wf_part_answer *over)
{
    double value[WF_GOAL_COUNT] = {0};
    bool holds = true;
    for (size_t k = 0; k < j->o->goal_count; k++)
        value[k] = grist->value[k] + at->value[k] + wf_yeast_value(j->yeast, j->o->goals[k]);
    if (!is_better(j, value))
        return;
    double *kg = j->best.kg, *grams = j->best.grams;
    j->best.kg = j->kg;
    j->best.grams = j->grams;
    j->kg = kg;
    j->grams = grams;
    j->best.og = og;
    j->found = true;
    for (size_t k = 0; k < j->o->goal_count; k++) {
        double bound = grist->bound[k] + over->bound[k] + wf_yeast_value(j->yeast, j->o->goals[k]);
        j->best.value[k] = value[k];
        j->best.bound[k] = holds ? fmin(value[k], bound) : -(double)INFINITY;
        holds = holds && fabs(over->value[k] - at->value[k]) < 1e-9 * fmax(1, fabs(at->value[k]));
    }
}

static bool impossible(const struct wf_part_answer *a)
{
    return a->x == NULL &&
           a->outcome == WF_OUTCOME_INFEASIBLE; /* no cutoff was set: it is proved */
}

/* Looks for the recipe of a window in which a grist was found: its hops, and the windows that are
 * left. */
static enum wf_status with_hops(struct joint *j, const struct span *s,
                                const struct wf_part_answer *grist)
{
    struct wf_part_answer over = {0}, at = {0};
    double own = wf_yeast_value(j->yeast, j->o->goals[0]), og;
    enum wf_status status;
    WF_TRY_GOTO(search_hops(j, s->low, s->high, &over, NULL));
    if (impossible(&over))
        goto done;
    double bound = fmax(s->bound, grist->bound[0] + over.bound[0] + own);
    if (grist->x == NULL) {
        j->closed_bound = fmin(j->closed_bound, bound);
        goto done;
    }
    WF_TRY_GOTO(wf_grist_gravity(j->p, j->kg, &og));
    WF_TRY_GOTO(search_hops(j, og, og, &at, j->grams));
    if (at.x != NULL)
        keep(j, og, grist, &at, &over);
    if (at.x != NULL && settled(j, bound)) {
        j->closed_bound = fmin(j->closed_bound, bound);
        goto done;
    }
    push(j, s->low, og - SPAN_MARGIN, bound);
    /* Above this gravity the grist costs no less, and the hops what they cost from here on. */
    wf_part_answer_clear(&over);
    WF_TRY_GOTO(search_hops(j, fmin(og, s->high), s->high, &over, NULL));
    if (!impossible(&over))
        push(j, og + SPAN_MARGIN, s->high, fmax(bound, grist->bound[0] + over.bound[0] + own));
    if (at.x != NULL)
        j->closed_bound = fmin(j->closed_bound, fmax(bound, grist->bound[0] + at.bound[0] + own));
done:
    wf_part_answer_clear(&over);
    wf_part_answer_clear(&at);
    return status;
}

static enum wf_status look_at(struct joint *j, const struct span *s)
{
    struct wf_part_answer grist = {0};
    enum wf_status status = search_grist(j, s, &grist);
    if (status == WF_OK && !impossible(&grist)) {
        j->best.grist_fits = true;
        status = with_hops(j, s, &grist);
    }
    wf_part_answer_clear(&grist);
    return status;
}

/* ---- The whole ------------------------------------------------------------------------------- */

static void conclude(struct joint *j)
{
    double bound = j->closed_bound;
    for (size_t i = 0; i < j->open_count; i++)
        bound = fmin(bound, j->open[i].bound);
    if (j->found)
        bound = fmin(bound, j->best.value[0]);
    j->best.bound[0] = bound;
    if (!j->found)
        j->best.outcome = isinf(bound) && bound > 0 ? WF_OUTCOME_INFEASIBLE : WF_OUTCOME_UNKNOWN;
    else
        j->best.outcome = settled(j, bound) ? WF_OUTCOME_OPTIMAL : WF_OUTCOME_FEASIBLE;
}

static enum wf_status search_windows(struct joint *j)
{
    push(j, j->p->target->og.low, j->p->target->og.high, -INFINITY);
    if (j->open_count == 0) /* a window of one gravity is looked at all the same */
        j->open[j->open_count++] =
            (struct span){j->p->target->og.low, j->p->target->og.high, -INFINITY};
    j->closed_bound = INFINITY;
    while (j->open_count > 0 && (j->looked_at == 0 || wf_clock_left(j->o->clock) > 0)) {
        if (wf_clock_cancelled(j->o->clock))
            return wf_error_add(j->e, WF_CANCELLED, "stopped");
        struct span s = pop_least(j);
        if (settled(j, s.bound)) {
            j->closed_bound = fmin(j->closed_bound, s.bound);
            continue;
        }
        WF_TRY(look_at(j, &s));
    }
    conclude(j);
    return WF_OK;
}

enum wf_status wf_joint_solve(const struct wf_problem *p, const struct wf_pick_yeast *yeast,
                              const struct wf_search_options *o, struct wf_answer *out,
                              struct wf_error *e)
{
    struct joint j = {.p = p, .yeast = yeast, .o = o, .e = e};
    enum wf_status status = WF_MEMORY;
    j.best.yeast = yeast;
    j.best.kg = wf_alloc(p->malt_count, sizeof(double));
    j.best.grams = wf_alloc(p->place_count, sizeof(double));
    j.kg = wf_alloc(p->malt_count, sizeof(double));
    j.grams = wf_alloc(p->place_count, sizeof(double));
    if (j.best.kg == NULL || j.best.grams == NULL || j.kg == NULL || j.grams == NULL)
        wf_error_add(e, WF_MEMORY, "out of memory");
    else
        status = search_windows(&j);
    wf_free(j.kg);
    wf_free(j.grams);
    if (status != WF_OK || !j.found) {
        wf_free(j.best.kg);
        wf_free(j.best.grams);
        j.best.kg = j.best.grams = NULL;
    }
    *out = j.best;
    return status;
}

void wf_answer_clear(struct wf_answer *a)
{
    wf_free(a->kg);
    wf_free(a->grams);
    *a = (struct wf_answer){0};
}
