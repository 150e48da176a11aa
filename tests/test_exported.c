/*
 * The search against other solvers: the integer model that wf_solve_model_text writes is solved by
 * GLPK's and COIN-OR's own programs, which share nothing with the search but the model.
 *
 * The written model takes the bitterness that a ratio wants, a slightly bent curve of the extract,
 * by straight lines on its safe side (joint_model.h): its recipes are the target's, but for some
 * at the very edge of the ratio. So its optimum lies between that of the target and that of the
 * target with the ratio drawn in by the lines' distance from the curve; both are asked of wf_solve.
 * Where these two agree, which is nearly always, all must agree.
 */
#include "support/test.h"

#include "support/run.h"
#include "support/solved.h"

#include "base/number.h"

#include <unistd.h>

#define CASES        PART_OF(48)
#define CASES_LEAST  PART_OF(30) /* that must be finished by one of the solvers */
#define SECONDS      20.0
#define SECONDS_TEXT "20"
#define SOLVER_GAP   1e-4 /* they are left at their own, which are finer */

/* Cases. */
static size_t finished, by_solver[2];
static size_t at_odds; /* in which the two solvers differ: one stopped at its own tolerances */

struct row {
    uint64_t seed;
    char name[32];
};

static enum wf_goal goal_of(uint64_t seed)
{
    return seed % 6 == 4 ? WF_GOAL_FEWEST : seed % 6 == 5 ? WF_GOAL_CLOSEST : WF_GOAL_COST;
}

/* An aim of the bitterness is left out: the written model takes the distance from it to be what is
 * least over the window of gravities, so that its optimum may be below the best recipe's. */
static struct gen *make(uint64_t s)
{
    const struct gen_options o = {.seed = 1000 + s,
                                  .malts = 6 + s % 13,
                                  .hops = 3 + s % 5,
                                  .yeasts = s % 3,
                                  .slots = 1 + s % 3,
                                  .scale = goal_of(s) == WF_GOAL_CLOSEST ? GEN_TINY : GEN_COARSE,
                                  .planted = true,
                                  .tight = s % 4 != 0,
                                  .aims = goal_of(s) == WF_GOAL_CLOSEST,
                                  .fermented = s % 3 > 0};
    struct gen *g = gen_make(&o);
    g->target.ratio.aim = g->target.bitterness.aim = (double)NAN;
    return g;
}

/* ---- The other solvers ----------------------------------------------------------------------- */

/* Files in the folder that the test runs in. */
static struct {
    char model[64], solution[64], log[64];
} file;

static void name_files(void)
{
    snprintf(file.model, sizeof file.model, "exported.%ld.lp", (long)getpid());
    snprintf(file.solution, sizeof file.solution, "exported.%ld.solution", (long)getpid());
    snprintf(file.log, sizeof file.log, "exported.%ld.log", (long)getpid());
}

static void remove_files(void)
{
    remove(file.model);
    remove(file.solution);
    remove(file.log);
}

/* Runs a solver that writes its solution; returns the number behind `mark` in the first line that
 * starts with `start`; NaN: there is none. */
static double ask(const char *const *argv, const char *start, const char *mark)
{
    char line[512];
    double value = (double)NAN;
    remove(file.solution);
    if (run_program(argv, file.log, SECONDS + 5) != 0)
        return value;
    FILE *in = fopen(file.solution, "r");
    while (in != NULL && isnan(value) && fgets(line, sizeof line, in) != NULL) {
        const char *at = strstr(line, mark);
        const char *end;
        if (strncmp(line, start, strlen(start)) == 0 && at != NULL &&
            !wf_number_parse(at + strlen(mark), &end, &value))
            value = (double)NAN;
    }
    if (in != NULL)
        fclose(in);
    return value;
}

/* "s mip ROWS COLUMNS o VALUE": the o says that the optimum is proved. */
static double ask_glpk(void)
{
    const char *argv[] = {WF_GLPSOL,    "--lp", file.model,    "--cuts", "--tmlim",
                          SECONDS_TEXT, "-w",   file.solution, NULL};
    return ask(argv, "s mip ", " o ");
}

static double ask_cbc(void)
{
    const char *argv[] = {WF_CBC, file.model, "-sec",  SECONDS_TEXT,  "-ratio",
                          "0",    "-solve",   "-solu", file.solution, NULL};
    return ask(argv, "Optimal", "objective value ");
}

/* ---- Ours ------------------------------------------------------------------------------------ */

static char *model_text(const struct gen *g, enum wf_goal goal)
{
    const struct wf_solve_options o = {
        .goals = {goal}, .goal_count = 1, .seconds = SECONDS, .today = GEN_TODAY};
    struct wf_error e = {0};
    char *text = NULL;
    enum wf_status status =
        wf_solve_model_text(&g->target, &g->store, &g->brewhouse, &o, &text, &e);
    if (status != WF_OK)
        print_error("%s\n", e.text);
    assert_int_equal(status, WF_OK);
    return text;
}

static void write_model(const struct gen *g, enum wf_goal goal)
{
    char *text = model_text(g, goal);
    FILE *out = fopen(file.model, "w");
    assert_non_null(out);
    assert_true(fputs(text, out) >= 0);
    assert_int_equal(fclose(out), 0);
    wf_text_release(text);
}

/* How far the lines lie from the curve: by Tinseth's law the bitterness that a ratio wants goes
 * with p e^(8.3 p), p the gravity less 1; its second derivative is 16.5/p + 69 times itself, so
 * over two points of gravity chord and tangent are off by 0.03 % at 1.035 and less above, and that
 * grows with the square of the window's width. */
static struct gen drawn_in(const struct gen *g)
{
    struct gen narrow = *g;
    struct wf_range *r =
        wf_range_is_any(g->target.ratio) ? &narrow.target.bitterness : &narrow.target.ratio;
    double points = wf_points(g->target.og.high) - wf_points(g->target.og.low);
    double part = 3e-4 * (points / 2) * (points / 2) + 1e-6;
    r->low *= 1 + part;
    r->high *= 1 - part;
    return narrow;
}

/* ---- One case -------------------------------------------------------------------------------- */

static double room(double value)
{
    return SOLVER_GAP * fabs(value) + 1e-5;
}

static void check(const struct gen *g, enum wf_goal goal, const struct solved *wide,
                  const struct solved *narrow, double theirs)
{
    assert_case(g, wide, wide->bound <= theirs + room(theirs));
    if (wide->proved)
        assert_case(g, wide, wide->value <= theirs + solved_room(goal, theirs));
    if (narrow->status == WF_OK) /* its recipes are all in the written model */
        assert_case(g, narrow, theirs <= narrow->value + room(theirs));
}

static void one_case(void **state)
{
    static double (*const solvers[])(void) = {ask_glpk, ask_cbc};
    const struct row *row = *state;
    enum wf_goal goal = goal_of(row->seed);
    struct gen *g = make(row->seed), inner = drawn_in(g);
    struct solved wide, narrow;
    size_t answers = 0;
    double least = HUGE_VAL; /* both solve the same model, so the lower is the better */
    write_model(g, goal);
    solved_make(g, &goal, 1, SECONDS, &wide);
    solved_make(&inner, &goal, 1, SECONDS, &narrow);
    assert_solved(g, &wide, goal);
    for (size_t i = 0; i < COUNT_OF(solvers); i++) {
        double theirs = solvers[i]();
        if (isnan(theirs))
            continue; /* not finished in its time: counted below */
        at_odds += answers > 0 && fabs(theirs - least) > room(least);
        least = fmin(least, theirs);
        by_solver[i]++;
        answers++;
    }
    if (answers > 0)
        check(g, goal, &wide, &narrow, least);
    finished += answers > 0 ? 1 : 0;
    solved_free(&wide);
    solved_free(&narrow);
    gen_free(g);
}

static void enough_were_finished(void **state)
{
    (void)state;
    print_message("finished: %zu of %d cases, GLPK %zu, COIN-OR %zu, at odds %zu\n", finished,
                  CASES, by_solver[0], by_solver[1], at_odds);
    assert_true(at_odds * 20 <= CASES);
    assert_true(finished >= CASES_LEAST);
    assert_true(by_solver[0] >= CASES_LEAST / 2);
    assert_true(by_solver[1] >= CASES_LEAST / 2);
}

int main(void)
{
    static struct row rows[CASES];
    static struct CMUnitTest tests[CASES + 1];
    for (size_t i = 0; i < CASES; i++) {
        rows[i].seed = i + 1;
        snprintf(rows[i].name, sizeof rows[i].name, "exported %zu", i + 1);
        tests[i] = (struct CMUnitTest){
            .name = rows[i].name, .test_func = one_case, .initial_state = &rows[i]};
    }
    tests[CASES] =
        (struct CMUnitTest){.name = "enough were finished", .test_func = enough_were_finished};
    name_files();
    int failed = _cmocka_run_group_tests("exported", tests, COUNT_OF(tests), NULL, NULL);
    remove_files();
    return failed != 0;
}
