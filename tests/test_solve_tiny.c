/*
 * The search against enumeration: tiny problems, each solved for every goal and each enumerated
 * whole through the forward path. The seed of a failing case and the case itself are printed.
 *
 * Planted problems have a recipe; of the others about a third have none, and then the search must
 * say so and name a nearest recipe with the wishes that it misses.
 */
#include "support/test.h"

#include "support/brute.h"
#include "support/solved.h"

#define PLANTED PART_OF(150)
#define DRAWN   PART_OF(300) /* not planted */

static struct {
    size_t solved[WF_GOAL_COUNT], proved[WF_GOAL_COUNT];
    size_t none;   /* over all goals */
    size_t unsure; /* cases in which tolerances decide whether there is a recipe */
} seen;

struct row {
    uint64_t seed;
    bool planted;
    char name[32];
};

static struct gen *make(const struct row *row)
{
    uint64_t s = row->seed;
    const struct gen_options o = {.seed = s,
                                  .malts = 3 + s % 3,
                                  .hops = 2 + s % 2,
                                  .yeasts = s % 3,
                                  .slots = 1 + s % 2,
                                  .scale = GEN_TINY,
                                  .planted = row->planted,
                                  .tight = s % 5 != 0,
                                  .aims = s % 2 == 1,
                                  .fermented = s % 3 > 0};
    return gen_make(&o);
}

/* ---- One goal -------------------------------------------------------------------------------- */

/* No recipe: the nearest one is weighable, and says which wishes it misses and by how much. */
static void check_none(const struct gen *g, const struct solved *s, const struct brute *b)
{
    size_t missed = 0;
    seen.none++;
    assert_case(g, s, s->status == WF_NO_RECIPE);
    assert_case(g, s, isinf(b->best[WF_GOAL_COST][BRUTE_SURE]));
    assert_case(g, s, s->recipe != NULL && s->recipe->status == WF_RECIPE_NONE);
    assert_case(g, s, judge_weights(g, &s->weights));
    for (size_t i = 0; i < s->recipe->wish_count; i++) {
        const struct wf_wish_result *w = &s->recipe->wishes[i];
        assert_case(g, s, w->met == !(w->missed_by > 0 || isnan(w->missed_by)));
        missed += w->met ? 0 : 1;
    }
    assert_case(g, s, missed > 0);
    assert_case(g, s, s->error.text[0] != '\0');
}

/* Between the best recipe that surely holds and the best that perhaps does. */
static void check_best(const struct gen *g, const struct solved *s, enum wf_goal goal,
                       const double best[2])
{
    double sure = best[BRUTE_SURE], perhaps = best[BRUTE_PERHAPS];
    assert_case(g, s, s->value >= perhaps - 1e-6 * fmax(1, perhaps));
    assert_case(g, s, s->bound <= sure + 1e-6 * fmax(1, sure));
    assert_case(g, s, !s->proved || s->value <= sure + solved_room(goal, sure));
}

static void check_goal(struct gen *g, const struct brute *b, enum wf_goal goal)
{
    struct solved s;
    solved_make(g, &goal, 1, 0, &s);
    if (s.status == WF_OK) {
        seen.solved[goal]++;
        seen.proved[goal] += s.proved ? 1 : 0;
        assert_solved(g, &s, goal);
        assert_case(g, &s, !isinf(b->best[goal][BRUTE_PERHAPS]));
        check_best(g, &s, goal, b->best[goal]);
    } else {
        check_none(g, &s, b);
    }
    solved_free(&s);
}

/* The fewest ingredients, and of those recipes the cheapest. */
static void check_order(struct gen *g, const struct brute *b)
{
    const enum wf_goal goals[] = {WF_GOAL_FEWEST, WF_GOAL_COST};
    const double *cost = b->fewest_cost;
    struct solved s;
    solved_make(g, goals, COUNT_OF(goals), 0, &s);
    if (s.status == WF_OK) {
        assert_solved(g, &s, WF_GOAL_FEWEST);
        assert_case(g, &s, s.recipe->proof_count == COUNT_OF(goals));
        check_best(g, &s, WF_GOAL_FEWEST, b->best[WF_GOAL_FEWEST]);
        double value = s.recipe->proofs[1].value, bound = s.recipe->proofs[1].bound;
        assert_case(g, &s,
                    s.value > b->best[WF_GOAL_FEWEST][BRUTE_SURE] ||
                        value >= cost[BRUTE_PERHAPS] - 1e-6);
        assert_case(g, &s, bound <= cost[BRUTE_SURE] + 1e-6);
        assert_case(g, &s,
                    !s.proved || value <= cost[BRUTE_SURE] + solved_room(WF_GOAL_COST, value));
    }
    solved_free(&s);
}

static void one_case(void **state)
{
    struct gen *g = make(*state);
    struct brute b;
    brute_search(g, &b);
    seen.unsure +=
        isinf(b.best[WF_GOAL_COST][BRUTE_SURE]) != isinf(b.best[WF_GOAL_COST][BRUTE_PERHAPS]);
    check_goal(g, &b, WF_GOAL_COST);
    check_goal(g, &b, WF_GOAL_FEWEST);
    check_goal(g, &b, WF_GOAL_CLOSEST);
    check_order(g, &b);
    gen_free(g);
}

/* The cases are worth something: both answers are frequent, and few are settled by tolerances. Time
 * is never short here, so nearly all are proved. */
static void cases_were_telling(void **state)
{
    (void)state;
    static const struct {
        enum wf_goal goal;
        size_t percent; /* proved at least; a distance is seldom within 0.01 % of its bound */
    } rows[] = {{WF_GOAL_COST, 95}, {WF_GOAL_FEWEST, 95}, {WF_GOAL_CLOSEST, 60}};
    for (size_t i = 0; i < COUNT_OF(rows); i++) {
        size_t solved = seen.solved[rows[i].goal], was_proved = seen.proved[rows[i].goal];
        print_message("%s: %zu solved, %zu proved\n", wf_goal_word(rows[i].goal), solved,
                      was_proved);
        assert_true(solved >= PLANTED);
        assert_true(was_proved * 100 >= solved * rows[i].percent);
    }
    assert_true(seen.none >= DRAWN / 4);
    assert_true(seen.unsure * 50 <= PLANTED + DRAWN);
}

int main(void)
{
    static struct row rows[PLANTED + DRAWN];
    static struct CMUnitTest tests[PLANTED + DRAWN + 1];
    for (size_t i = 0; i < COUNT_OF(rows); i++) {
        rows[i].planted = i < PLANTED;
        rows[i].seed = rows[i].planted ? i + 1 : i + 1 - PLANTED;
        snprintf(rows[i].name, sizeof rows[i].name, "%s %llu",
                 rows[i].planted ? "planted" : "drawn", (unsigned long long)rows[i].seed);
        tests[i] = (struct CMUnitTest){
            .name = rows[i].name, .test_func = one_case, .initial_state = &rows[i]};
    }
    tests[COUNT_OF(rows)] =
        (struct CMUnitTest){.name = "cases were telling", .test_func = cases_were_telling};
    return _cmocka_run_group_tests("tiny", tests, COUNT_OF(tests), NULL, NULL) != 0;
}
