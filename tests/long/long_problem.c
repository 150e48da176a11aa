/* long_problem.c: problems of 3..12 malts, from seeds. */
#include "long/long_problem.h"

#include "support/dice.h"
#include "support/generate.h"

#include "base/try.h" /* WF_COUNT_OF */

#include "wortfit/wortfit.h"

#include <time.h>

/* What ends a search early, since what is wanted is many problems: one part in a hundred, and of
 * the way from an aim to its window's end one in twenty. */
static double gap_of(enum wf_goal goal)
{
    return goal == WF_GOAL_CLOSEST ? 0.05 : 0.01;
}

static struct gen *make(uint64_t number, enum wf_goal *goal)
{
    static const enum wf_goal goals[] = {WF_GOAL_COST,    WF_GOAL_COST,   WF_GOAL_COST,
                                         WF_GOAL_CLOSEST, WF_GOAL_FEWEST, WF_GOAL_USE_UP};
    struct dice d = {.state = number};
    const struct gen_options o = {.seed = dice_next(&d),
                                  .malts = (size_t)dice_whole(&d, 3, 12),
                                  .hops = (size_t)dice_whole(&d, 1, 6),
                                  .yeasts = (size_t)dice_whole(&d, 1, 3),
                                  .slots = (size_t)dice_whole(&d, 1, 4),
                                  .scale = (enum gen_scale)dice_whole(&d, GEN_TINY, GEN_FINE),
                                  .planted = dice_chance(&d, 75),
                                  .tight = dice_chance(&d, 50),
                                  .aims = dice_chance(&d, 50),
                                  .fermented = dice_chance(&d, 50)};
    *goal = goals[dice_whole(&d, 0, (long)WF_COUNT_OF(goals) - 1)];
    return gen_make(&o);
}

static double processor_seconds(void)
{
    struct timespec t;
    clock_gettime(CLOCK_THREAD_CPUTIME_ID, &t);
    return (double)t.tv_sec + 1e-9 * (double)t.tv_nsec;
}

/* FNV-1a, 64 bits (G. Fowler, L. Noll, P. Vo, 1991), from memory. */
static uint64_t print_of(uint64_t print, const char *text)
{
    for (; *text != '\0'; text++)
        print = (print ^ (unsigned char)*text) * UINT64_C(0x100000001B3);
    return print;
}

static enum long_end end_of(enum wf_status status)
{
    return status == WF_OK          ? LONG_RECIPE
           : status == WF_NO_RECIPE ? LONG_NONE
           : status == WF_UNDECIDED ? LONG_UNDECIDED
                                    : LONG_WRONG;
}

struct long_answer long_solve(uint64_t number)
{
    enum wf_goal goal;
    struct gen *g = make(number, &goal);
    const struct wf_solve_options o = {
        .goals = {goal}, .goal_count = 1, .gap = gap_of(goal), .today = GEN_TODAY};
    struct wf_error e = {0};
    struct wf_recipe *r = NULL;
    char *json = NULL;
    double start = processor_seconds();
    enum wf_status status = wf_solve(&g->target, &g->store, &g->brewhouse, &o, &r, &e);
    struct long_answer a = {.end = end_of(status), .seconds = processor_seconds() - start};
    if (r != NULL && wf_report_recipe_json(r, &json, &e) != WF_OK)
        a.end = LONG_WRONG;
    a.print = print_of(UINT64_C(0xCBF29CE484222325), wf_status_text(status));
    a.print = print_of(print_of(a.print, json != NULL ? json : ""), e.text);
    a.on_clock = r != NULL ? r->seconds : 0;
    if (a.end == LONG_WRONG) {
        gen_print(g, stderr);
        fprintf(stderr, "problem %llu: %s: %s\n", (unsigned long long)number,
                wf_status_text(status), e.text);
    }
    wf_text_release(json);
    wf_recipe_free(r);
    gen_free(g);
    return a;
}
