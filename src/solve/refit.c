/* refit.c: see refit.h. */
#include "solve/refit_parts.h"

#include "base/alloc.h"
#include "base/try.h"
#include "solve/solver.h"

#include <math.h>
#include <string.h>

/* Never reached by any schedule that a brewer writes. */
#define SECONDS_MOST 10.0

/* ---- What is wanted -------------------------------------------------------------------------- */

/* Half of what the finest step that is free gives: no nearer can every aim be met. */
static double half_a_step(const struct wf_refit_work *w)
{
    double least = INFINITY;
    for (size_t c = 0; c < w->choice_count; c++)
        if (!w->fixed[w->choices[c].place] && w->choices[c].ibu > 0)
            least = fmin(least, w->choices[c].ibu * w->choices[c].step_g / 2);
    return isfinite(least) ? least : 0;
}

static void set_window(struct wf_refit_work *w)
{
    const struct wf_refit_options *o = w->o;
    double points = wf_points(w->from->predicted.og), own = w->from->predicted.ibu;
    struct wf_range r = {own - WF_REFIT_TOLERANCE, own + WF_REFIT_TOLERANCE, own};
    if (!wf_range_is_any(o->bitterness))
        r = o->bitterness;
    else if (!wf_range_is_any(o->ratio))
        r = (struct wf_range){o->ratio.low * points, o->ratio.high * points, o->ratio.aim * points};
    if (isfinite(r.aim)) {
        r.low = fmin(r.low, r.aim - half_a_step(w));
        r.high = fmax(r.high, r.aim + half_a_step(w));
    }
    w->problem.ibu_low = r.low;
    w->problem.ibu_high = r.high;
    w->problem.ibu_aim = r.aim;
}

/* ---- Searches -------------------------------------------------------------------------------- */

static enum wf_status search(struct wf_refit_work *w, enum wf_refit_goal goal, double fewest,
                             struct wf_solution *s)
{
    const struct wf_solver_options o = {.seconds = SECONDS_MOST, .cutoff = (double)NAN};
    struct wf_model *m = NULL;
    *s = (struct wf_solution){0};
    WF_TRY(wf_refit_model_make(&w->problem, goal, fewest, &m, w->e));
    enum wf_status status = wf_solver_run(m, &o, s, w->e);
    wf_model_free(m);
    return status;
}

/* The bitterness that there is, by one end of it; NaN: what is fixed goes beyond the stock. */
static enum wf_status end_of(struct wf_refit_work *w, enum wf_refit_goal goal, double *ibu)
{
    struct wf_solution s;
    WF_TRY(search(w, goal, (double)NAN, &s));
    *ibu = s.x != NULL ? fabs(s.value) : (double)NAN;
    wf_solution_clear(&s);
    return WF_OK;
}

/* What a place must use of a lot at least. */
static double place_least(const struct wf_refit_work *w, size_t i, size_t hop)
{
    const struct wf_refit_place *place = &w->places[i];
    double least =
        place->may_stay ? (place->lot == (int)hop ? place->before_g : 0) : (double)INFINITY;
    for (size_t c = 0; c < w->choice_count; c++) {
        const struct wf_refit_choice *choice = &w->choices[c];
        if (choice->place == i)
            least = fmin(least, choice->lot == (int)hop ? choice->least * choice->step_g : 0);
    }
    return place->must && isfinite(least) ? least : 0;
}

static enum wf_status tell_stock(struct wf_refit_work *w)
{
    for (size_t k = 0; k < w->hop_count; k++) {
        double least = 0;
        for (size_t i = 0; i < w->place_count; i++)
            least += place_least(w, i, k);
        if (least > w->lot_most_g[k])
            return wf_error_add(w->e, WF_NO_RECIPE,
                                "the store has %g g of %s, and %g g are to stay as they are",
                                w->lot_most_g[k], w->hops[k].name, least);
    }
    return wf_error_add(w->e, WF_NO_RECIPE,
                        "the store has too little of the hops that are to stay as they are");
}

static enum wf_status tell_why_not(struct wf_refit_work *w)
{
    const struct wf_refit_problem *p = &w->problem;
    double lowest, highest;
    char wanted[64];
    WF_TRY(end_of(w, WF_REFIT_LOWEST, &lowest));
    WF_TRY(end_of(w, WF_REFIT_HIGHEST, &highest));
    if (isnan(lowest) || isnan(highest))
        return tell_stock(w);
    wf_range_print(WF_DIM_BITTERNESS, (struct wf_range){p->ibu_low, p->ibu_high, NAN},
                   WF_UNITS_METRIC, wanted, sizeof wanted);
    return wf_error_add(w->e, WF_NO_RECIPE,
                        "the bitterness wanted, %s, cannot be had by changing what is free: that "
                        "gives %.1f to %.1f IBU%s",
                        wanted, lowest, highest,
                        w->o->slots == NULL && !w->o->all
                            ? "; late additions may change too with --change all"
                            : "");
}

/* Keeps the point in the arena: the solution is cleared. */
static enum wf_status keep_point(struct wf_refit_work *w, const struct wf_solution *s)
{
    size_t columns = 2 * w->place_count + 2 * w->choice_count + 1;
    w->x = wf_arena_alloc(w->arena, columns, sizeof *w->x);
    if (w->x == NULL)
        return wf_error_add(w->e, WF_MEMORY, "out of memory");
    memcpy(w->x, s->x, columns * sizeof *w->x);
    return WF_OK;
}

static enum wf_status undecided(struct wf_refit_work *w)
{
    return wf_error_add(w->e, WF_UNDECIDED,
                        "no schedule was found in time, and none ruled out: fix some of its "
                        "places");
}

static enum wf_status least_change(struct wf_refit_work *w)
{
    struct wf_solution s;
    enum wf_status status;
    WF_TRY(search(w, WF_REFIT_LEAST, w->changed, &s));
    w->change = s.value;
    w->change_bound = s.bound;
    status = s.x != NULL ? keep_point(w, &s) : undecided(w);
    wf_solution_clear(&s);
    return status;
}

static enum wf_status choose(struct wf_refit_work *w)
{
    struct wf_solution s;
    WF_TRY(search(w, WF_REFIT_FEWEST, (double)NAN, &s));
    bool found = s.x != NULL, none = s.outcome == WF_OUTCOME_INFEASIBLE;
    w->changed = round(s.value);
    w->changed_bound = ceil(s.bound - 1e-6);
    wf_solution_clear(&s);
    return found ? least_change(w) : none ? tell_why_not(w) : undecided(w);
}

/* ---- The whole ------------------------------------------------------------------------------- */

static enum wf_status refit(struct wf_refit_work *w, struct wf_refit *out)
{
    const struct wf_recipe *r = w->from;
    if (r->hop_count == 0 && w->o->slots == NULL)
        return wf_error_add(w->e, WF_BAD_INPUT,
                            "recipe \"%s\" has no hops: say when they go in, with --schedule",
                            r->name);
    if (!(r->predicted.ibu > 0) && wf_range_is_any(w->o->ratio) &&
        wf_range_is_any(w->o->bitterness))
        return wf_error_add(w->e, WF_BAD_INPUT,
                            "recipe \"%s\" has no bitterness to keep: say what is wanted, with "
                            "--ratio or --bitterness",
                            r->name);
    w->kettle = r->kettle;
    w->stand_celsius = r->stand_celsius;
    w->stand_length = r->stand_length;
    WF_TRY(wf_refit_places(w));
    set_window(w);
    WF_TRY(choose(w));
    return wf_refit_recipe(w, out);
}

enum wf_status wf_recipe_refit(const struct wf_recipe *r, const struct wf_refit_options *o,
                               struct wf_refit **out, struct wf_error *e)
{
    struct wf_refit_work w = {.from = r, .o = o, .e = e};
    struct wf_arena *arena = wf_arena_new();
    struct wf_refit *f = arena == NULL ? NULL : wf_arena_alloc(arena, 1, sizeof *f);
    *out = NULL;
    if (f == NULL) {
        wf_arena_free(arena);
        return wf_error_add(e, WF_MEMORY, "out of memory");
    }
    f->arena = w.arena = arena;
    enum wf_status status = refit(&w, f);
    if (status == WF_OK)
        *out = f;
    else
        wf_refit_free(f);
    return status;
}

void wf_refit_free(struct wf_refit *f)
{
    if (f == NULL)
        return;
    wf_recipe_free(f->recipe);
    wf_arena_free(f->arena);
}
