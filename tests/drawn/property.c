/* property.c: one problem and its changed sister, solved and held against each other. */
#include "support/test.h"

#include "drawn/property.h"

#include "wortfit/report.h"

/* Of what the bounds are taken to be exact to: the solver's tolerance, in units of the value. */
#define EXACT 1e-6
/* Recipes on the very edge of a window, but for rounding, must be taken; past it they may be. What
 * alcohol and final gravity leave of residue is a straight line to the search (grist_residue.c), so
 * near their edges it may be either way. */
#define ON_THE_EDGE (-1e-9)
#define STRAIGHT    3e-5

static struct property_result failed(const char *what)
{
    return (struct property_result){PROPERTY_FAILED, what};
}

static const struct property_result held = {PROPERTY_HELD, ""};
static const struct property_result unsure = {PROPERTY_UNSURE, ""};

void property_begin(struct property_case *p, struct gen *g, enum wf_goal goal, uint64_t seed)
{
    p->g = g;
    p->goal = goal;
    p->seed = seed;
    solved_make(g, &goal, 1, 0, &p->answer);
}

void property_end(struct property_case *p)
{
    solved_free(&p->answer);
}

/* ---- One answer ------------------------------------------------------------------------------ */

static const char *wrong_by_itself(const struct gen *g, const struct solved *s, enum wf_goal goal)
{
    if (s->status == WF_NO_RECIPE)
        return s->recipe == NULL || judge_weights(g, &s->weights) ? NULL
                                                                  : "the nearest is weighable";
    return s->status == WF_UNDECIDED ? NULL : solved_wrong(g, s, goal);
}

struct property_result property_by_itself(struct property_case *p, const void *data)
{
    const char *wrong = wrong_by_itself(p->g, &p->answer, p->goal);
    (void)data;
    return wrong != NULL ? failed(wrong) : held;
}

/* The yeast's place in the target's list, of those that it wants. */
static size_t rank_of(const struct gen *g, size_t yeast)
{
    const char *const *wanted = g->target.yeasts;
    size_t rank = 0;
    if (yeast == GEN_NO_YEAST || wanted == NULL)
        return 0;
    const struct wf_yeast *y = &g->store.yeasts[yeast];
    while (wanted[rank] != NULL && strcmp(wanted[rank], y->id) != 0 &&
           strcmp(wanted[rank], y->family) != 0)
        rank++;
    return rank;
}

static bool is_sure(const struct verdict *v)
{
    bool line = strcmp(v->reason, "alcohol") == 0 || strcmp(v->reason, "final gravity") == 0;
    return v->margin >= (line ? STRAIGHT : ON_THE_EDGE);
}

/* ---- Two answers ----------------------------------------------------------------------------- */

/* These weights, of worth `before` where they come from, against the answer to the problem g. */
static struct property_result against(struct gen *g, const struct gen_recipe *r,
                                      const struct solved *s, enum wf_goal goal, double before)
{
    struct verdict v;
    judge(g, r, &v);
    if (!v.allowed)
        return failed("the other problem's recipe is allowed here");
    if (!is_sure(&v))
        return v.margin < -2 * JUDGE_UNSURE ? failed("the other problem's recipe meets the wishes")
                                            : unsure;
    if (s->status == WF_UNDECIDED)
        return unsure;
    if (s->status != WF_OK)
        return failed("there is a recipe");
    size_t theirs = rank_of(g, r->yeast), ours = rank_of(g, s->weights.yeast);
    double value = v.value[goal], exact = EXACT * fmax(1, fabs(value));
    if (value > before + EXACT * fmax(1, fabs(before)))
        return failed("the other problem's recipe costs no more here");
    if (ours != theirs)
        return ours > theirs ? failed("a yeast that the target likes no less") : held;
    if (s->bound > value + exact)
        return failed("the bound is no better than a recipe that there is");
    if (s->proved && s->value > value + solved_room(goal, value) + exact)
        return failed("the value is that of the best recipe, within the gap");
    return held;
}

/* What the base's answer says of the changed problem, and the other way round. */
static struct property_result forth(struct property_case *p, struct changed *c,
                                    const struct solved *changed, bool never_more)
{
    const struct solved *s = &p->answer;
    if (s->status != WF_OK)
        return held;
    if (!is_sure(&s->verdict))
        return unsure;
    struct gen_recipe r = change_forth(c, &s->weights);
    bool compare = never_more && p->goal != WF_GOAL_CLOSEST;
    return against(&c->g, &r, changed, p->goal, compare ? s->value : HUGE_VAL);
}

static struct property_result back(struct property_case *p, const struct changed *c,
                                   const struct solved *changed)
{
    if (!c->both || changed->status != WF_OK)
        return held;
    if (!is_sure(&changed->verdict))
        return unsure;
    struct gen_recipe r = change_back(p->g, c, &changed->weights);
    return against(p->g, &r, &p->answer, p->goal, HUGE_VAL);
}

struct property_result property_judge(struct property_case *p, struct changed *c, bool never_more)
{
    struct solved changed;
    struct property_result r = held;
    solved_make(&c->g, &p->goal, 1, 0, &changed);
    const char *wrong = wrong_by_itself(&c->g, &changed, p->goal);
    if (wrong != NULL)
        r = failed(wrong);
    if (r.end == PROPERTY_HELD)
        r = forth(p, c, &changed, never_more);
    if (r.end != PROPERTY_FAILED) {
        struct property_result b = back(p, c, &changed);
        r = b.end == PROPERTY_HELD ? r : b;
    }
    solved_free(&changed);
    return r;
}

struct property_result property_of_change(struct property_case *p, const void *data)
{
    const struct change *change = data;
    struct dice d = {.state = p->seed};
    struct changed c;
    change_start(p->g, &c);
    if (!change->make(p->g, &d, &c) || (p->answer.status != WF_OK && !c.both))
        return (struct property_result){PROPERTY_NOT_ASKED, ""};
    return property_judge(p, &c, change->never_more);
}

/* ---- Bytes ----------------------------------------------------------------------------------- */

char *property_told(const struct gen *g, enum wf_goal goal)
{
    const struct wf_solve_options o = {.goals = {goal}, .goal_count = 1, .today = GEN_TODAY};
    const struct wf_report_style style = {WF_UNITS_METRIC, false};
    static struct wf_error e;
    struct wf_recipe *r = NULL;
    char *json = NULL, *text = NULL;
    wf_error_clear(&e);
    enum wf_status status = wf_solve(&g->target, &g->store, &g->brewhouse, &o, &r, &e);
    if (r != NULL && (wf_report_recipe_json(r, &json, &e) != WF_OK ||
                      wf_report_recipe_text(r, &style, &text, &e) != WF_OK))
        fail_msg("%s", e.text);
    size_t size = strlen(wf_status_text(status)) + strlen(e.text) + 4 +
                  (json != NULL ? strlen(json) : 0) + (text != NULL ? strlen(text) : 0);
    char *all = malloc(size);
    assert_non_null(all);
    snprintf(all, size, "%s\n%s\n%s\n%s", wf_status_text(status), json != NULL ? json : "",
             text != NULL ? text : "", e.text);
    wf_text_release(json);
    wf_text_release(text);
    wf_recipe_free(r);
    return all;
}

struct property_result property_same_bytes(struct property_case *p, const void *data)
{
    char *first = property_told(p->g, p->goal), *again = property_told(p->g, p->goal);
    bool same = strcmp(first, again) == 0;
    (void)data;
    free(first);
    free(again);
    return same ? held : failed("the same input gives the same bytes");
}
