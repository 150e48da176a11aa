#include "model/refit_model.h"

#include "base/try.h"

#include <math.h>

/* Columns: what stays, one a place; steps and use, one each a choice; weight changed, one a place;
 * distance from the aim. */
static int stay_column(size_t place)
{
    return (int)place;
}

static int steps_column(const struct wf_refit_problem *p, size_t choice)
{
    return (int)(p->place_count + 2 * choice);
}

static int use_column(const struct wf_refit_problem *p, size_t choice)
{
    return steps_column(p, choice) + 1;
}

static int moved_column(const struct wf_refit_problem *p, size_t place)
{
    return (int)(p->place_count + 2 * p->choice_count + place);
}

static int distance_column(const struct wf_refit_problem *p)
{
    return moved_column(p, p->place_count);
}

static bool was_used(const struct wf_refit_place *place)
{
    return place->before_g > 0;
}

static void add_columns(struct wf_model *m, const struct wf_refit_problem *p)
{
    for (size_t i = 0; i < p->place_count; i++) {
        const struct wf_refit_place *place = &p->places[i];
        wf_model_column(m, 0, was_used(place) && place->may_stay ? 1 : 0, 0, true, place->label);
    }
    for (size_t c = 0; c < p->choice_count; c++) {
        const struct wf_refit_choice *choice = &p->choices[c];
        double most = choice->most < choice->least ? 0 : choice->most;
        wf_model_column(m, 0, most, 0, true, choice->label);
        wf_model_column(m, 0, most > 0 ? 1 : 0, 0, true, choice->label);
    }
    for (size_t i = 0; i < p->place_count; i++)
        wf_model_column(m, 0, INFINITY, 0, false, "weight changed");
    wf_model_column(m, 0, INFINITY, 0, false, "distance from the aim");
}

static void add_use(struct wf_model *m, const struct wf_refit_problem *p)
{
    for (size_t c = 0; c < p->choice_count; c++) {
        const struct wf_refit_choice *choice = &p->choices[c];
        int row = wf_model_row(m, 0, INFINITY, "least weight worth adding");
        wf_model_term(m, row, steps_column(p, c), 1);
        wf_model_term(m, row, use_column(p, c), -choice->least);
        row = wf_model_row(m, -INFINITY, 0, "weight only if used");
        wf_model_term(m, row, steps_column(p, c), 1);
        wf_model_term(m, row, use_column(p, c), -fmax(choice->most, 0));
    }
}

static void add_one_a_place(struct wf_model *m, const struct wf_refit_problem *p)
{
    for (size_t i = 0; i < p->place_count; i++) {
        int row = wf_model_row(m, p->places[i].must ? 1 : 0, 1, "one thing a place");
        wf_model_term(m, row, stay_column(i), 1);
        for (size_t c = 0; c < p->choice_count; c++)
            if (p->choices[c].place == i)
                wf_model_term(m, row, use_column(p, c), 1);
    }
}

/* The weight of the same hop before less after, either way. */
static void add_moved(struct wf_model *m, const struct wf_refit_problem *p)
{
    for (size_t i = 0; i < p->place_count; i++) {
        double before = p->places[i].before_g;
        int more = wf_model_row(m, -INFINITY, before, "weight changed");
        int less = wf_model_row(m, before, INFINITY, "weight changed");
        wf_model_term(m, more, moved_column(p, i), -1);
        wf_model_term(m, less, moved_column(p, i), 1);
        wf_model_term(m, more, stay_column(i), before);
        wf_model_term(m, less, stay_column(i), before);
        for (size_t c = 0; c < p->choice_count; c++) {
            if (p->choices[c].place != i || !p->choices[c].same_hop)
                continue;
            wf_model_term(m, more, steps_column(p, c), p->choices[c].step_g);
            wf_model_term(m, less, steps_column(p, c), p->choices[c].step_g);
        }
    }
}

static void add_stock(struct wf_model *m, const struct wf_refit_problem *p)
{
    for (size_t k = 0; k < p->lot_count; k++) {
        if (!isfinite(p->lot_most_g[k]))
            continue;
        int row = wf_model_row(m, -INFINITY, p->lot_most_g[k], "stock");
        for (size_t i = 0; i < p->place_count; i++)
            if (p->places[i].lot == (int)k)
                wf_model_term(m, row, stay_column(i), p->places[i].before_g);
        for (size_t c = 0; c < p->choice_count; c++)
            if (p->choices[c].lot == (int)k)
                wf_model_term(m, row, steps_column(p, c), p->choices[c].step_g);
    }
}

static void add_bitterness_terms(struct wf_model *m, const struct wf_refit_problem *p, int row)
{
    for (size_t i = 0; i < p->place_count; i++)
        wf_model_term(m, row, stay_column(i), p->places[i].before_g * p->places[i].before_ibu);
    for (size_t c = 0; c < p->choice_count; c++)
        wf_model_term(m, row, steps_column(p, c), p->choices[c].step_g * p->choices[c].ibu);
}

static void add_bitterness(struct wf_model *m, const struct wf_refit_problem *p)
{
    add_bitterness_terms(m, p, wf_model_row(m, p->ibu_low, p->ibu_high, "bitterness"));
    if (!isfinite(p->ibu_aim))
        return;
    int below = wf_model_row(m, p->ibu_aim, INFINITY, "distance from the aim");
    int above = wf_model_row(m, -INFINITY, p->ibu_aim, "distance from the aim");
    add_bitterness_terms(m, p, below);
    add_bitterness_terms(m, p, above);
    wf_model_term(m, below, distance_column(p), 1);
    wf_model_term(m, above, distance_column(p), -1);
}

/* A place that held something changes unless that stays; an empty one if it is used. */
static void add_most_changes(struct wf_model *m, const struct wf_refit_problem *p, double fewest)
{
    double used_before = 0;
    for (size_t i = 0; i < p->place_count; i++)
        used_before += was_used(&p->places[i]);
    int row = wf_model_row(m, -INFINITY, fewest - used_before, "places that change");
    for (size_t i = 0; i < p->place_count; i++)
        if (was_used(&p->places[i]))
            wf_model_term(m, row, stay_column(i), -1);
    for (size_t c = 0; c < p->choice_count; c++)
        if (!was_used(&p->places[p->choices[c].place]))
            wf_model_term(m, row, use_column(p, c), 1);
}

/* ---- Goals ----------------------------------------------------------------------------------- */

static void set_fewest(struct wf_model *m, const struct wf_refit_problem *p)
{
    for (size_t i = 0; i < p->place_count; i++) {
        if (!was_used(&p->places[i]))
            continue;
        wf_model_set_offset(m, wf_model_offset(m) + 1);
        wf_model_set_cost(m, stay_column(i), -1);
    }
    for (size_t c = 0; c < p->choice_count; c++)
        if (!was_used(&p->places[p->choices[c].place]))
            wf_model_set_cost(m, use_column(p, c), 1);
}

static void set_least(struct wf_model *m, const struct wf_refit_problem *p)
{
    for (size_t i = 0; i < p->place_count; i++)
        wf_model_set_cost(m, moved_column(p, i), 1 / p->notch_g);
    for (size_t c = 0; c < p->choice_count; c++)
        if (!p->choices[c].same_hop)
            wf_model_set_cost(m, steps_column(p, c), p->choices[c].step_g / p->notch_g);
    if (isfinite(p->ibu_aim))
        wf_model_set_cost(m, distance_column(p), 1);
}

static void set_bitterness(struct wf_model *m, const struct wf_refit_problem *p, double sign)
{
    for (size_t i = 0; i < p->place_count; i++)
        wf_model_set_cost(m, stay_column(i),
                          sign * p->places[i].before_g * p->places[i].before_ibu);
    for (size_t c = 0; c < p->choice_count; c++)
        wf_model_set_cost(m, steps_column(p, c), sign * p->choices[c].step_g * p->choices[c].ibu);
}

static void set_goal(struct wf_model *m, const struct wf_refit_problem *p, enum wf_refit_goal goal)
{
    switch (goal) {
    case WF_REFIT_FEWEST:
        set_fewest(m, p);
        break;
    case WF_REFIT_LEAST:
        set_least(m, p);
        break;
    case WF_REFIT_LOWEST:
        set_bitterness(m, p, 1);
        break;
    case WF_REFIT_HIGHEST:
        set_bitterness(m, p, -1);
        break;
    }
}

enum wf_status wf_refit_model_make(const struct wf_refit_problem *p, enum wf_refit_goal goal,
                                   double fewest, struct wf_model **out, struct wf_error *e)
{
    struct wf_model *m = wf_model_new();
    enum wf_status status = WF_MEMORY;
    *out = NULL;
    if (m == NULL)
        return wf_error_add(e, WF_MEMORY, "out of memory");
    add_columns(m, p);
    add_use(m, p);
    add_one_a_place(m, p);
    add_moved(m, p);
    add_stock(m, p);
    if (goal == WF_REFIT_FEWEST || goal == WF_REFIT_LEAST)
        add_bitterness(m, p);
    if (isfinite(fewest))
        add_most_changes(m, p, fewest);
    set_goal(m, p, goal);
    WF_TRY_GOTO(wf_model_check(m, e));
    *out = m;
    return WF_OK;
done:
    wf_model_free(m);
    return status;
}

bool wf_refit_stays(const struct wf_refit_problem *p, const double *x, size_t place)
{
    return was_used(&p->places[place]) && x[stay_column(place)] > 0.5;
}

double wf_refit_steps(const struct wf_refit_problem *p, const double *x, size_t choice)
{
    return round(x[steps_column(p, choice)]);
}
