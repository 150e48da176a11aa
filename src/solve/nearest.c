#include "solve/nearest.h"

#include "base/alloc.h"
#include "base/try.h"

#include <math.h>

/* The gravity window for an elastic grist's bounds on the residue must be one of real worts. */
static struct wf_grist_options elastic_options(const struct wf_problem *p,
                                               const struct wf_pick_yeast *y)
{
    return (struct wf_grist_options){
        .og_low = p->og.low, .og_high = p->og.high, .yeast = y, .elastic = true};
}

/* Counts that may be missed tie use columns to others, so these models are not `of_lots`. */
static enum wf_status elastic_search(struct wf_model *m, const struct wf_item *items, size_t count,
                                     const struct wf_search_options *o, struct wf_solution *out,
                                     struct wf_error *e)
{
    struct wf_part part = {.model = m, .items = items, .item_count = count, .total = -1};
    return wf_search_model(&part, o, out, e);
}

static enum wf_status grist_with(const struct wf_problem *p, const struct wf_pick_yeast *y,
                                 const struct wf_search_options *o, bool relax,
                                 struct wf_solution *s, double *kg, struct wf_error *e)
{
    struct wf_grist_options g = elastic_options(p, y);
    struct wf_grist_model m;
    WF_TRY(wf_grist_model_make(p, &g, &m, e));
    struct wf_solver_options relaxed = {
        .relax = true, .cutoff = NAN, .seconds = fmax(0.1, wf_clock_left(o->clock))};
    enum wf_status status = relax ? wf_solver_run(m.model, &relaxed, s, e)
                                  : elastic_search(m.model, m.items, m.item_count, o, s, e);
    if (status == WF_OK && s->x != NULL && kg != NULL)
        wf_grist_model_weights(&m, s->x, kg);
    wf_grist_model_free(&m);
    return status;
}

/* The yeast whose relaxation misses least; ties go to the preferred one. */
static enum wf_status choose_yeast(const struct wf_problem *p, const struct wf_search_options *o,
                                   const struct wf_pick_yeast **best, struct wf_error *e)
{
    double least = INFINITY;
    *best = NULL;
    for (size_t i = 0; i < p->yeast_count; i++) {
        struct wf_solution s = {0};
        WF_TRY(grist_with(p, &p->yeasts[i], o, true, &s, NULL, e));
        if (*best == NULL || s.value < least - 1e-6) {
            least = s.value;
            *best = &p->yeasts[i];
        }
        wf_solution_clear(&s);
    }
    return WF_OK;
}

/* The hops for the grist's own gravity, or for the nearest wanted one where it has hardly any. */
static enum wf_status hops_for(const struct wf_problem *p, const struct wf_search_options *o,
                               struct wf_answer *a, struct wf_error *e)
{
    struct wf_solution s = {0};
    struct wf_hop_model m;
    double og;
    if (wf_grist_gravity(p, a->kg, &a->og) != WF_OK)
        a->og = p->og.low;
    og = fmin(fmax(a->og, 1.005), WF_GRAVITY_MOST - 0.001);
    struct wf_hop_options h = {.og_low = og, .og_high = og, .elastic = true};
    WF_TRY(wf_hop_model_make(p, &h, &m, e));
    enum wf_status status = elastic_search(m.model, m.items, m.item_count, o, &s, e);
    if (status == WF_OK && s.x != NULL)
        wf_hop_model_grams(&m, s.x, a->grams);
    wf_solution_clear(&s);
    wf_hop_model_free(&m);
    return status;
}

static enum wf_status find(const struct wf_problem *p, const struct wf_search_options *o,
                           struct wf_answer *a, struct wf_error *e)
{
    struct wf_solution s = {0};
    WF_TRY(choose_yeast(p, o, &a->yeast, e));
    enum wf_status status = grist_with(p, a->yeast, o, false, &s, a->kg, e);
    double total = 0;
    for (size_t i = 0; i < p->malt_count; i++)
        total += a->kg[i];
    a->outcome =
        status == WF_OK && s.x != NULL && total > 0 ? WF_OUTCOME_FEASIBLE : WF_OUTCOME_INFEASIBLE;
    wf_solution_clear(&s);
    return status != WF_OK || a->outcome == WF_OUTCOME_INFEASIBLE ? status : hops_for(p, o, a, e);
}

enum wf_status wf_nearest_solve(const struct wf_problem *p, const struct wf_search_options *o,
                                struct wf_answer *out, struct wf_error *e)
{
    struct wf_search_options open = *o;
    struct wf_answer a = {.outcome = WF_OUTCOME_INFEASIBLE};
    enum wf_status status = WF_MEMORY;
    open.cutoff = NAN;
    a.kg = wf_alloc(p->malt_count, sizeof(double));
    a.grams = wf_alloc(p->place_count, sizeof(double));
    if (a.kg == NULL || a.grams == NULL)
        wf_error_add(e, WF_MEMORY, "out of memory");
    else
        status = find(p, &open, &a, e);
    if (status != WF_OK || a.outcome == WF_OUTCOME_INFEASIBLE) {
        wf_free(a.kg);
        wf_free(a.grams);
        a.kg = a.grams = NULL;
    }
    *out = a;
    return status;
}
