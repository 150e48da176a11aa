/*
 * The driver: problem, search (search_yeasts.c), recipe, proof.
 */
#include "wortfit/solve.h"
#include "wortfit/revise.h"

#include "base/alloc.h"
#include "base/try.h"
#include "solve/assemble.h"
#include "solve/nearest.h"
#include "solve/solve_parts.h"
#include "solve/wishes.h"

#include <math.h>
#include <string.h>

#define DEFAULT_GAP 1e-4

static const struct {
    const char *word, *text;
} goal_rows[] = {
#define WF_X(id, w, t) [WF_GOAL_##id] = {.word = w, .text = t},
    WF_GOAL_LIST(WF_X)
#undef WF_X
        [WF_GOAL_CHANGE] = {.word = "change", .text = "least change from a recipe"},
};
_Static_assert(WF_COUNT_OF(goal_rows) == WF_GOAL_COUNT, "one row a goal");

const char *wf_goal_word(enum wf_goal g)
{
    return goal_rows[g].word;
}

const char *wf_goal_text(enum wf_goal g)
{
    return goal_rows[g].text;
}

/* ---- Goals ----------------------------------------------------------------------------------- */

/* The goals that were asked for, and after them cost, so that of equals the cheaper is taken. The
 * least change stands alone: it charges weights and uses at once, which the search cannot hold at
 * its value. */
static size_t complete_goals(const struct wf_solve_options *o, enum wf_goal goals[WF_GOAL_COUNT])
{
    size_t count = 0;
    bool cost = false;
    for (size_t i = 0; i < o->goal_count && i < WF_GOAL_COUNT; i++) {
        goals[count++] = o->goals[i];
        cost = cost || o->goals[i] == WF_GOAL_COST || o->goals[i] == WF_GOAL_CHANGE;
    }
    if (!cost && count < WF_GOAL_COUNT)
        goals[count++] = WF_GOAL_COST;
    return count;
}

enum wf_status wf_solve_problem(const struct wf_target *t, const struct wf_store *s,
                                const struct wf_brewhouse *b, const struct wf_solve_options *o,
                                struct wf_problem *out, struct wf_error *e)
{
    for (size_t i = 0; i < o->goal_count; i++)
        if (o->goals[i] == WF_GOAL_CHANGE && !o->from)
            return wf_error_add(e, WF_USAGE, "the least change needs a recipe to change");
        else if (o->goals[i] == WF_GOAL_CHANGE && o->goal_count > 1)
            return wf_error_add(e, WF_USAGE, "the least change is a goal for itself");
    WF_TRY(wf_problem_make(t, s, b, o->today, out, e));
    wf_problem_keep_to(out, o->from);
    return WF_OK;
}

struct wf_search_options wf_solve_search_options(const struct wf_solve_options *o,
                                                 enum wf_goal goals[WF_GOAL_COUNT],
                                                 struct wf_clock *clock)
{
    return (struct wf_search_options){.goals = goals,
                                      .goal_count = complete_goals(o, goals),
                                      .asked = o->goal_count > 0 ? o->goal_count : 1,
                                      .clock = clock,
                                      .gap = o->gap > 0 ? o->gap : DEFAULT_GAP,
                                      .cutoff = NAN,
                                      .floor = -(double)INFINITY};
}

/* ---- Result ---------------------------------------------------------------------------------- */

static enum wf_status add_proofs(struct wf_recipe *r, const struct wf_answer *a,
                                 const struct wf_search_options *o, struct wf_error *e)
{
    r->proofs = wf_arena_alloc(r->arena, o->goal_count, sizeof *r->proofs);
    if (r->proofs == NULL)
        return wf_error_add(e, WF_MEMORY, "out of memory");
    r->proof_count = o->asked;
    r->status = WF_RECIPE_OPTIMAL;
    for (size_t k = 0; k < r->proof_count; k++) {
        double value = a->value[k], bound = a->bound[k];
        double room = wf_goal_room(o->goals[k]);
        double unit = fmax(fabs(value), wf_goal_least_unit(o->goals[k]));
        double gap = value - bound <= room * (1 + 1e-9) + 1e-12 ? 0 : (value - bound) / unit;
        r->proofs[k] = (struct wf_proof){wf_goal_word(o->goals[k]), value, bound, gap};
        if (!(gap <= o->gap * (1 + 1e-9)))
            r->status = isfinite(bound) ? WF_RECIPE_GOOD : WF_RECIPE_UNPROVED;
    }
    return WF_OK;
}

/* The search's figures against the forward path's: they must agree before anything is shown. */
static enum wf_status verify(const struct wf_problem *p, const struct wf_answer *a,
                             const struct wf_recipe *r, const struct wf_search_options *o,
                             struct wf_error *e)
{
    const struct wf_wish_result *missed = wf_wishes_missed(r);
    WF_TRY(wf_weights_verify(p, a, e));
    if (missed != NULL)
        return wf_error_add(e, WF_INTERNAL,
                            "internal error: the recipe found misses its wish for %s (%.9g, not "
                            "%.9g..%.9g)",
                            missed->wish, missed->got, missed->wanted.low, missed->wanted.high);
    for (size_t k = 0; k < o->goal_count; k++)
        if (o->goals[k] == WF_GOAL_COST && fabs(a->value[k] - r->cost) > 1e-6 * fmax(1, r->cost))
            return wf_error_add(
                e, WF_INTERNAL,
                "internal error: the search reckons %.9g for the cost, the recipe %.9g",
                a->value[k], r->cost);
    for (size_t k = 0; k < o->goal_count; k++) {
        double change = p->from ? wf_recipe_change(p->from, r) : 0;
        if (o->goals[k] == WF_GOAL_CHANGE && fabs(a->value[k] - change) > 1e-6 * fmax(1, change))
            return wf_error_add(
                e, WF_INTERNAL,
                "internal error: the search reckons %.9g for the change, the recipe %.9g",
                a->value[k], change);
    }
    return WF_OK;
}

enum wf_status wf_solve_found(const struct wf_problem *p, const struct wf_answer *a,
                              const struct wf_search_options *o, struct wf_recipe **out,
                              struct wf_error *e)
{
    struct wf_recipe *r;
    WF_TRY(wf_recipe_assemble(p, a, &r, e));
    enum wf_status status = add_proofs(r, a, o, e);
    if (status == WF_OK)
        status = verify(p, a, r, o, e);
    if (status == WF_OK) {
        r->seconds = wf_clock_seconds(o->clock);
        *out = r;
    } else {
        wf_recipe_free(r);
    }
    return status;
}

/* The nearest recipe; *out NULL: no lot can be used. Malts that do not belong are among its lots.
 */
static enum wf_status nearest(const struct wf_problem *p, const struct wf_search_options *o,
                              struct wf_recipe **out, struct wf_error *e)
{
    struct wf_problem open;
    struct wf_answer a = {0};
    WF_TRY(wf_problem_open(p, &open, e));
    enum wf_status status = wf_nearest_solve(&open, o, &a, e);
    if (status == WF_OK && a.kg != NULL)
        status = wf_weights_verify(&open, &a, e);
    if (status == WF_OK && a.kg != NULL)
        status = wf_recipe_assemble(&open, &a, out, e);
    wf_answer_clear(&a);
    wf_problem_free(&open);
    return status;
}

static enum wf_status none(const struct wf_problem *p, const struct wf_search_options *o,
                           struct wf_recipe **out, struct wf_error *e)
{
    WF_TRY(nearest(p, o, out, e));
    if (*out != NULL) {
        (*out)->status = WF_RECIPE_NONE;
        (*out)->seconds = wf_clock_seconds(o->clock);
    }
    return wf_error_add(e, WF_NO_RECIPE, "no recipe for \"%s\" meets every wish with these lots",
                        p->target->name);
}

/* The first figure that is wished as one value alone; NULL: none. */
static const char *pinned(const struct wf_target *t)
{
    const struct {
        struct wf_range wanted;
        const char *name;
    } rows[] = {{t->og, "original gravity"},
                {t->fg, "final gravity"},
                {t->abv, "alcohol"},
                {t->colour, "colour"},
                {t->ratio, "the bitterness ratio"},
                {t->bitterness, "bitterness"}};
    for (size_t i = 0; i < WF_COUNT_OF(rows); i++)
        if (rows[i].wanted.high - rows[i].wanted.low <= 1e-9)
            return rows[i].name;
    return NULL;
}

static enum wf_status undecided(const struct wf_target *t, struct wf_error *e)
{
    const char *one = pinned(t);
    if (one != NULL)
        return wf_error_add(
            e, WF_UNDECIDED,
            "no recipe found in the time given, and none ruled out: %s is wished "
            "as one value from end to end, which whole steps of a scale hardly ever "
            "give; widen it",
            one);
    return wf_error_add(e, WF_UNDECIDED,
                        "no recipe found in the time given, and none ruled out: give more "
                        "with --time");
}

enum wf_status wf_solve_conclude(const struct wf_problem *p, const struct wf_search_options *o,
                                 const struct wf_answer *a, struct wf_recipe **out,
                                 struct wf_error *e)
{
    if (wf_clock_cancelled(o->clock))
        return wf_error_add(e, WF_CANCELLED, "stopped");
    if (a->kg != NULL)
        return wf_solve_found(p, a, o, out, e);
    if (a->outcome == WF_OUTCOME_INFEASIBLE)
        return none(p, o, out, e);
    return undecided(p->target, e);
}

enum wf_status wf_solve_first(const struct wf_problem *p, const struct wf_search_options *o,
                              struct wf_answer *a, struct wf_recipe **out, struct wf_error *e)
{
    *a = (struct wf_answer){0};
    WF_TRY(wf_solve_search(p, o, a, e));
    return wf_solve_conclude(p, o, a, out, e);
}

enum wf_status wf_solve_by(const struct wf_target *t, const struct wf_store *s,
                           const struct wf_brewhouse *b, const struct wf_solve_options *o,
                           struct wf_clock *clock, struct wf_recipe **out, struct wf_error *e)
{
    enum wf_goal goals[WF_GOAL_COUNT];
    struct wf_search_options options = wf_solve_search_options(o, goals, clock);
    struct wf_problem p;
    *out = NULL;
    WF_TRY(wf_solve_problem(t, s, b, o, &p, e));
    struct wf_answer a;
    enum wf_status status = wf_solve_first(&p, &options, &a, out, e);
    wf_answer_clear(&a);
    wf_problem_free(&p);
    return status;
}

enum wf_status wf_solve(const struct wf_target *t, const struct wf_store *s,
                        const struct wf_brewhouse *b, const struct wf_solve_options *o,
                        struct wf_recipe **out, struct wf_error *e)
{
    struct wf_clock clock = wf_clock_start(o);
    return wf_solve_by(t, s, b, o, &clock, out, e);
}

/* ---- The model, for others ------------------------------------------------------------------- */

/* The yeast that the answer has, or the first that suits. */
static enum wf_status model_text(const struct wf_problem *p, const struct wf_search_options *o,
                                 char **text, struct wf_error *e)
{
    struct wf_model *m = NULL;
    struct wf_answer a;
    WF_TRY(wf_solve_search(p, o, &a, e));
    const struct wf_pick_yeast *yeast = a.yeast != NULL      ? a.yeast
                                        : p->yeast_count > 0 ? &p->yeasts[0]
                                                             : NULL;
    wf_answer_clear(&a);
    WF_TRY(wf_joint_model_make(p, yeast, o->goals[0], &m, e));
    enum wf_status status = wf_model_write_lp(m, p->target->name, text, e);
    wf_model_free(m);
    return status;
}

enum wf_status wf_solve_model_text(const struct wf_target *t, const struct wf_store *s,
                                   const struct wf_brewhouse *b, const struct wf_solve_options *o,
                                   char **text, struct wf_error *e)
{
    struct wf_clock clock = wf_clock_start(o);
    enum wf_goal goals[WF_GOAL_COUNT];
    struct wf_search_options options = wf_solve_search_options(o, goals, &clock);
    struct wf_problem p;
    *text = NULL;
    WF_TRY(wf_solve_problem(t, s, b, o, &p, e));
    enum wf_status status = model_text(&p, &options, text, e);
    wf_problem_free(&p);
    return status;
}

void wf_text_release(char *text)
{
    wf_free(text);
}
