/* solved.c: what a solver's answer must keep to, whatever the problem. */
#include "support/test.h"

#include "support/solved.h"

void solved_make(struct gen *g, const enum wf_goal *goals, size_t count, double seconds,
                 struct solved *out)
{
    struct wf_solve_options o = {
        .goal_count = count, .seconds = seconds > 0 ? seconds : SOLVED_SECONDS, .today = GEN_TODAY};
    memcpy(o.goals, goals, count * sizeof *goals);
    *out = (struct solved){.value = (double)NAN, .bound = (double)NAN};
    out->status = wf_solve(&g->target, &g->store, &g->brewhouse, &o, &out->recipe, &out->error);
    out->weights = gen_recipe_new(g);
    if (out->recipe == NULL)
        return;
    if (!judge_read(g, out->recipe, &out->weights))
        solved_fail(g, out, "every ingredient is of the store and in a slot", __FILE__, __LINE__);
    judge(g, &out->weights, &out->verdict);
    out->proved = out->recipe->status == WF_RECIPE_OPTIMAL;
    if (out->recipe->proof_count > 0) {
        out->value = out->recipe->proofs[0].value;
        out->bound = out->recipe->proofs[0].bound;
    }
}

void solved_free(struct solved *s)
{
    wf_recipe_free(s->recipe);
    s->recipe = NULL;
}

static double least_room(enum wf_goal goal)
{
    return goal == WF_GOAL_CLOSEST ? 0.03 : goal == WF_GOAL_USE_UP ? 0.005 : 1e-6;
}

double solved_room(enum wf_goal goal, double value)
{
    return fmax(1.01 * SOLVED_GAP * fabs(value) + 1e-6, least_room(goal));
}

/* ---- Failing --------------------------------------------------------------------------------- */

static void print_answer(const struct solved *s)
{
    const struct wf_recipe *r = s->recipe;
    fprintf(stderr, "// answer: %s, value %.9g, bound %.9g; judged: %s, margin %g, %s\n%s%s",
            wf_status_text(s->status), s->value, s->bound,
            s->verdict.allowed ? "allowed" : "not allowed", s->verdict.margin,
            s->verdict.reason != NULL ? s->verdict.reason : "", s->error.text,
            s->error.count > 0 ? "\n" : "");
    for (size_t i = 0; r != NULL && i < r->malt_count; i++)
        fprintf(stderr, "//   %.10g kg %s\n", r->malts[i].kg, r->malts[i].id);
    for (size_t i = 0; r != NULL && i < r->hop_count; i++)
        fprintf(stderr, "//   %.10g g %s, use %d, %g min\n", r->hops[i].grams, r->hops[i].id,
                (int)r->hops[i].addition.use, r->hops[i].addition.minutes);
    if (r != NULL && r->yeast.id != NULL)
        fprintf(stderr, "//   %s\n", r->yeast.id);
}

void solved_fail(const struct gen *g, const struct solved *s, const char *what, const char *file,
                 int line)
{
    gen_print(g, stderr);
    print_answer(s);
    print_error("seed %llu: not so: %s\n", (unsigned long long)g->options.seed, what);
    _fail(file, line);
}

/* ---- Checking -------------------------------------------------------------------------------- */

static bool wishes_met(const struct wf_recipe *r)
{
    for (size_t i = 0; i < r->wish_count; i++)
        if (!r->wishes[i].met || r->wishes[i].missed_by > 0 || r->wishes[i].missed_by < 0)
            return false;
    return true;
}

static bool same(double a, double b, double room)
{
    return (isnan(a) && isnan(b)) || fabs(a - b) <= room;
}

/* What the recipe says of itself is what the judge finds. */
static bool figures_agree(const struct solved *s)
{
    const struct wf_beer *a = &s->recipe->predicted, *b = &s->verdict.beer;
    return same(a->og, b->og, 1e-9) && same(a->fg, b->fg, 1e-9) && same(a->abv, b->abv, 1e-9) &&
           same(a->srm, b->srm, 1e-7) && same(a->ibu, b->ibu, 1e-7) &&
           same(a->ratio, b->ratio, 1e-9) && same(a->lintner, b->lintner, 1e-7) &&
           same(s->recipe->cost, s->verdict.value[WF_GOAL_COST], 1e-6) &&
           same((double)s->recipe->ingredients, s->verdict.value[WF_GOAL_FEWEST], 0);
}

/* The gap is that of value and bound, of a distance in units of at least a window's side; none
 * where nobody could tell. */
static bool proof_honest(const struct wf_proof *p, enum wf_goal goal)
{
    double unit = goal == WF_GOAL_CLOSEST ? 1 : 1e-9;
    double gap = (p->value - p->bound) / fmax(fabs(p->value), unit);
    bool slight = p->value - p->bound <= least_room(goal) * (1 + 1e-9);
    return p->bound <= p->value + 1e-9 &&
           (fabs(p->gap - fmax(0, gap)) <= 1e-9 || (slight && p->gap == 0)) &&
           strcmp(p->goal, wf_goal_word(goal)) == 0;
}

static bool status_honest(const struct wf_recipe *r, enum wf_goal goal)
{
    for (size_t i = 0; i < r->proof_count; i++)
        if (r->status == WF_RECIPE_OPTIMAL && r->proofs[i].gap > SOLVED_GAP * 1.0001)
            return false;
    return r->proof_count > 0 && proof_honest(&r->proofs[0], goal) && r->status != WF_RECIPE_NONE;
}

const char *solved_wrong(const struct gen *g, const struct solved *s, enum wf_goal goal)
{
    if (s->status != WF_OK || s->recipe == NULL)
        return "a recipe is found";
    if (!s->verdict.allowed || !judge_weights(g, &s->weights))
        return "the recipe is allowed";
    if (s->verdict.margin < -JUDGE_UNSURE)
        return "every wish is met";
    if (!wishes_met(s->recipe))
        return "the recipe says that every wish is met";
    if (!figures_agree(s))
        return "the recipe's figures are those of its weights";
    if (!status_honest(s->recipe, goal))
        return "bound, gap and status belong together";
    if (goal != WF_GOAL_USE_UP && !same(s->value, s->verdict.value[goal], 1e-6 * fmax(1, s->value)))
        return "the goal's value is that of the weights";
    return NULL;
}

void solved_check(const struct gen *g, const struct solved *s, enum wf_goal goal, const char *file,
                  int line)
{
    const char *wrong = solved_wrong(g, s, goal);
    if (wrong != NULL)
        solved_fail(g, s, wrong, file, line);
}
