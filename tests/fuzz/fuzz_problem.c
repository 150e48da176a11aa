/*
 * fuzz_problem.c: a problem made from the input, solved under a small limit and judged by code that
 * shares nothing with the search: a recipe meets its wishes, keeps to the stock and lies on the
 * scale, its bound is no better than its value or than the planted recipe's, and "none" is never
 * said where a recipe was planted.
 */
#include "support/test.h"

#include "fuzz/fuzz.h"
#include "support/solved.h"

#define SECONDS 1.0

/* The problem that the input's bytes name; those that are missing are 0. */
static struct gen *make(const uint8_t *data, size_t size, enum wf_goal *goal)
{
    /* Those that need nothing but a problem. */
    static const enum wf_goal goals[] = {WF_GOAL_COST, WF_GOAL_FEWEST, WF_GOAL_CLOSEST,
                                         WF_GOAL_USE_UP};
    uint8_t b[16] = {0};
    uint64_t seed = 0;
    memcpy(b, data, size < sizeof b ? size : sizeof b);
    for (size_t i = 8; i < sizeof b; i++)
        seed = seed << 8 | b[i];
    const struct gen_options o = {.seed = seed,
                                  .malts = 1 + b[0] % 16,
                                  .hops = 1 + b[1] % 8,
                                  .yeasts = b[2] % 4,
                                  .slots = 1 + b[3] % 4,
                                  .scale = (enum gen_scale)(b[4] % 3),
                                  .planted = b[5] % 4 != 0,
                                  .tight = b[6] % 2 == 1,
                                  .aims = b[7] % 2 == 1,
                                  .fermented = b[2] % 4 > 0 && b[6] % 4 > 1};
    *goal = goals[b[7] / 2 % COUNT_OF(goals)];
    return gen_make(&o);
}

static void check_against_drawn(const struct gen *g, const struct solved *s, enum wf_goal goal)
{
    struct verdict drawn;
    judge(g, &g->drawn, &drawn);
    bool fits = drawn.allowed && drawn.margin >= JUDGE_UNSURE;
    assert_case(g, s, !g->options.planted || (drawn.allowed && drawn.margin >= -1e-9));
    assert_case(g, s, s->status != WF_NO_RECIPE || !(fits || g->options.planted));
    if (s->status != WF_OK || !fits || goal == WF_GOAL_USE_UP)
        return;
    double value = drawn.value[goal];
    assert_case(g, s, s->bound <= value + 1e-6 * fmax(1, value));
    assert_case(g, s, !s->proved || s->value <= value + solved_room(goal, value));
}

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size)
{
    enum wf_goal goal;
    struct gen *g = make(data, size, &goal);
    struct solved s;
    solved_make(g, &goal, 1, SECONDS, &s);
    assert_case(g, &s,
                s.status == WF_OK || s.status == WF_NO_RECIPE || s.status == WF_UNDECIDED ||
                    s.status == WF_OUT_OF_RANGE);
    if (s.status == WF_OK)
        assert_solved(g, &s, goal);
    if (s.status == WF_NO_RECIPE && s.recipe)
        assert_case(g, &s, judge_weights(g, &s.weights));
    check_against_drawn(g, &s, goal);
    solved_free(&s);
    gen_free(g);
    return 0;
}
