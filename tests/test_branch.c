/*
 * Our own branch and bound against the solver's, on the same models: seeded ones with everything
 * that a grist's or a hop schedule's model has: least weights, coarse and fine steps, windows,
 * shares of the total, counts, kinds of several lots, charges for use and presence, whole packs and
 * distances from an aim. Both prove their optima, so they must be equal.
 */
#include "support/test.h"

#include "base/alloc.h"
#include "solve/branch.h"
#include "solve/solver.h"
#include "support/dice.h"

#define LOTS_MOST 36

/* FEW: cost, and at most two or three of many lots, so that which one is the question. */
enum goal { GOAL_COST, GOAL_COUNT, GOAL_KINDS, GOAL_CLOSEST, GOAL_PACKS, GOAL_FEW, GOALS };
static const char *const goal_name[GOALS] = {"cost",    "count", "kinds",
                                             "closest", "packs", "few of many"};

struct made {
    struct wf_model *m;
    struct wf_item items[LOTS_MOST];
    int lots, total, window;
    int distance[2];
    struct dice dice;
};

static double between(struct made *d, double low, double high)
{
    return low + (high - low) * dice_decimal(&d->dice, 0, 100000, 1e5);
}

/* ---- A model --------------------------------------------------------------------------------- */

static void add_lot(struct made *d, int i, int kind)
{
    static const double steps[] = {0.05, 0.01, 0.02};
    struct wf_item item = {
        .step = steps[dice_whole(&d->dice, 0, 2)], .pack = -1, .present = kind, .group = i % 3};
    double most = floor(between(d, 0.2, 3) / item.step);
    item.least = ceil(0.06 / item.step);
    item.weight = wf_model_column(d->m, 0, most, 0, true, "weight");
    item.use = wf_model_column(d->m, 0, 1, 0, true, "use");
    int row = wf_model_row(d->m, 0, (double)INFINITY, "least");
    wf_model_term(d->m, row, item.weight, 1);
    wf_model_term(d->m, row, item.use, -item.least);
    row = wf_model_row(d->m, -(double)INFINITY, 0, "only if used");
    wf_model_term(d->m, row, item.weight, 1);
    wf_model_term(d->m, row, item.use, -most);
    wf_model_term(d->m, d->window, item.weight, between(d, 0.5, 0.8) * item.step);
    d->items[i] = item;
}

static void add_total(struct made *d)
{
    d->total = wf_model_column(d->m, 0, (double)INFINITY, 0, false, "total");
    int row = wf_model_row(d->m, 0, 0, "total");
    wf_model_term(d->m, row, d->total, -1);
    for (int i = 0; i < d->lots; i++)
        wf_model_term(d->m, row, d->items[i].weight, d->items[i].step);
}

static void add_shares(struct made *d)
{
    for (int i = 0; i < d->lots; i += 2) {
        int row = wf_model_row(d->m, -(double)INFINITY, 0, "share");
        wf_model_term(d->m, row, d->total, -between(d, 0.15, 0.7));
        wf_model_term(d->m, row, d->items[i].weight, d->items[i].step);
    }
    double middle = between(d, 4, 12), wide = between(d, 0.5, 2);
    int colour = wf_model_row(d->m, middle - wide, middle + wide, "colour");
    for (int i = 0; i < d->lots; i++)
        wf_model_term(d->m, colour, d->items[i].weight,
                      (i % 3 == 0 ? 1.5 : between(d, 3, 40)) * d->items[i].step);
}

static void add_counts(struct made *d, long more)
{
    int row = wf_model_row(d->m, 1, 2 + (double)dice_whole(&d->dice, 0, more), "count");
    for (int i = 0; i < d->lots; i++)
        wf_model_term(d->m, row, d->items[i].use, 1);
    row = wf_model_row(d->m, (double)dice_whole(&d->dice, 0, 2), (double)INFINITY, "some of these");
    for (int i = 1; i < d->lots; i += 2)
        wf_model_term(d->m, row, d->items[i].use, 1);
}

/* Lots in threes are of one kind; at most so many kinds. */
static void add_kinds(struct made *d, const int *kinds, int count)
{
    for (int k = 0; k < count; k++) {
        int row = wf_model_row(d->m, 0, (double)INFINITY, "present only if used");
        wf_model_term(d->m, row, kinds[k], -1);
        for (int i = 0; i < d->lots; i++) {
            if (d->items[i].present != kinds[k])
                continue;
            wf_model_term(d->m, row, d->items[i].use, 1);
            int tie = wf_model_row(d->m, 0, (double)INFINITY, "present if used");
            wf_model_term(d->m, tie, kinds[k], 1);
            wf_model_term(d->m, tie, d->items[i].use, -1);
        }
    }
    int row =
        wf_model_row(d->m, -(double)INFINITY, 2 + (double)dice_whole(&d->dice, 0, 1), "kinds");
    for (int k = 0; k < count; k++)
        wf_model_term(d->m, row, kinds[k], 1);
}

static void add_packs(struct made *d)
{
    for (int i = 0; i < d->lots; i += 3) {
        double pack = between(d, 0.1, 0.6);
        int most = (int)ceil(wf_model_high(d->m, d->items[i].weight) * d->items[i].step / pack);
        d->items[i].pack = wf_model_column(d->m, 0, most, between(d, 0.3, 1.2), true, "packs");
        int row = wf_model_row(d->m, 0, (double)INFINITY, "whole packs");
        wf_model_term(d->m, row, d->items[i].pack, pack);
        wf_model_term(d->m, row, d->items[i].weight, -d->items[i].step);
    }
}

static void add_aim(struct made *d, double aim)
{
    int row = wf_model_row(d->m, aim, aim + 0.002, "aim");
    for (int i = 0; i < d->lots; i++)
        wf_model_term(d->m, row, d->items[i].weight, between(d, 0.4, 0.9) * d->items[i].step);
    d->distance[0] = wf_model_column(d->m, 0, (double)INFINITY, 3, false, "below");
    d->distance[1] = wf_model_column(d->m, 0, (double)INFINITY, 2, false, "above");
    wf_model_term(d->m, row, d->distance[0], 0.7);
    wf_model_term(d->m, row, d->distance[1], -1.1);
}

static void set_costs(struct made *d, enum goal goal, const int *kinds, int kind_count)
{
    for (int i = 0; i < d->lots; i++) {
        if (goal == GOAL_COST || goal == GOAL_FEW || (goal == GOAL_PACKS && d->items[i].pack < 0))
            wf_model_set_cost(d->m, d->items[i].weight, between(d, 1, 4) * d->items[i].step);
        if (goal == GOAL_COUNT)
            wf_model_set_cost(d->m, d->items[i].use, 1);
    }
    for (int k = 0; goal == GOAL_KINDS && k < kind_count; k++)
        wf_model_set_cost(d->m, kinds[k], 1);
    wf_model_set_offset(d->m, goal == GOAL_COST || goal == GOAL_FEW ? 0.75 : 0);
}

static void make(struct made *d, unsigned seed, enum goal goal)
{
    int kinds[LOTS_MOST], kind_count = 0;
    *d = (struct made){.m = wf_model_new(), .total = -1};
    d->dice.state = seed * 31u + (unsigned)goal;
    d->lots = goal == GOAL_FEW ? (int)dice_whole(&d->dice, 24, LOTS_MOST)
                               : (int)dice_whole(&d->dice, 4, 13);
    double amount = between(d, 1, 3);
    d->window = wf_model_row(d->m, amount, amount * between(d, 1.01, 1.05), "amount");
    for (int k = 0; goal == GOAL_KINDS && k < (d->lots + 2) / 3; k++)
        kinds[kind_count++] = wf_model_column(d->m, 0, 1, 0, true, "present");
    for (int i = 0; i < d->lots; i++)
        add_lot(d, i, kind_count > 0 ? kinds[i % kind_count] : -1);
    add_total(d);
    add_shares(d);
    add_counts(d, goal == GOAL_FEW ? 1 : 3);
    if (kind_count > 0)
        add_kinds(d, kinds, kind_count);
    if (goal == GOAL_PACKS)
        add_packs(d);
    if (goal == GOAL_CLOSEST)
        add_aim(d, amount);
    set_costs(d, goal, kinds, kind_count);
}

/* ---- The comparison -------------------------------------------------------------------------- */

static void search(const struct made *d, struct wf_solution *out)
{
    struct wf_solve_options options = {.seconds = 60};
    struct wf_clock clock = wf_clock_start(&options);
    struct wf_search_options o = {.clock = &clock, .cutoff = (double)NAN, .gap = 1e-9};
    struct wf_part part = {.model = d->m,
                           .items = d->items,
                           .item_count = (size_t)d->lots,
                           .total = d->total,
                           .of_lots = true};
    struct wf_error e = {0};
    assert_int_equal(wf_branch(&part, &o, out, &e), WF_OK);
}

static void compare(unsigned seed, enum goal goal, int *with_point)
{
    struct made d;
    struct wf_solution ours = {0}, theirs = {0};
    struct wf_solver_options o = {.cutoff = (double)NAN};
    struct wf_error e = {0};
    make(&d, seed, goal);
    assert_int_equal(wf_model_check(d.m, &e), WF_OK);
    search(&d, &ours);
    assert_int_equal(wf_solver_run(d.m, &o, &theirs, &e), WF_OK);
    if ((ours.x == NULL) != (theirs.x == NULL))
        print_error("seed %u, goal %s: only one finds a point\n", seed, goal_name[goal]);
    assert_int_equal(ours.x == NULL, theirs.x == NULL);
    assert_int_equal(ours.outcome, theirs.x == NULL ? WF_OUTCOME_INFEASIBLE : WF_OUTCOME_OPTIMAL);
    if (ours.x != NULL) {
        double near = 1e-6 * fmax(1, fabs(theirs.value));
        if (!(fabs(ours.value - theirs.value) <= near))
            print_error("seed %u, goal %s\n", seed, goal_name[goal]);
        assert_close(ours.value, theirs.value, near);
        assert_true(ours.bound <= ours.value && ours.bound >= theirs.value - near);
        assert_true(wf_model_violation(d.m, ours.x, NULL) <= WF_SOLVER_TOLERANCE);
        *with_point += 1;
    }
    wf_solution_clear(&ours);
    wf_solution_clear(&theirs);
    wf_model_free(d.m);
}

static void equals_the_solver(void **state)
{
    enum goal goal = *(enum goal *)*state;
    int with_point = 0;
    for (unsigned seed = 1; seed <= 120; seed++)
        compare(seed, goal, &with_point);
    assert_in_range(with_point, 30, 115); /* both kinds must be met */
}

/* A cutoff below the optimum leaves nothing, and a bound that says so. */
static void a_cutoff_is_kept(void **state)
{
    (void)state;
    struct made d;
    struct wf_solution best = {0}, cut = {0};
    make(&d, 7, GOAL_COST);
    for (unsigned seed = 8; best.x == NULL; seed++) {
        wf_solution_clear(&best);
        search(&d, &best);
        if (best.x == NULL) {
            wf_model_free(d.m);
            make(&d, seed, GOAL_COST);
        }
    }
    struct wf_solve_options options = {.seconds = 60};
    struct wf_clock clock = wf_clock_start(&options);
    struct wf_search_options o = {.clock = &clock, .cutoff = best.value - 0.01, .gap = 1e-9};
    struct wf_part part = {.model = d.m,
                           .items = d.items,
                           .item_count = (size_t)d.lots,
                           .total = d.total,
                           .of_lots = true};
    struct wf_error e = {0};
    assert_int_equal(wf_branch(&part, &o, &cut, &e), WF_OK);
    assert_null(cut.x);
    assert_int_equal(cut.outcome, WF_OUTCOME_INFEASIBLE);
    assert_true(cut.bound >= o.cutoff - 1e-9 && cut.bound <= best.value + 1e-9);
    wf_solution_clear(&best);
    wf_solution_clear(&cut);
    wf_model_free(d.m);
}

/* Each allocation fails in turn: out of memory, nothing leaked, or a point less and the search goes
 * on. */
static void memory_runs_out_cleanly(void **state)
{
    (void)state;
    struct made d;
    make(&d, 3, GOAL_COST);
    for (long n = 0;; n++) {
        struct wf_solve_options options = {.seconds = 60};
        struct wf_clock clock = wf_clock_start(&options);
        struct wf_search_options o = {.clock = &clock, .cutoff = (double)NAN, .gap = 1e-9};
        struct wf_part part = {.model = d.m,
                               .items = d.items,
                               .item_count = (size_t)d.lots,
                               .total = d.total,
                               .of_lots = true};
        struct wf_solution s = {0};
        struct wf_error e = {0};
        wf_alloc_fail_at(n);
        enum wf_status status = wf_branch(&part, &o, &s, &e);
        bool reached = wf_alloc_count() > n;
        wf_alloc_fail_at(-1);
        wf_solution_clear(&s);
        if (status != WF_OK)
            assert_int_equal(status, WF_MEMORY);
        if (!reached)
            break;
    }
    wf_model_free(d.m);
}

int main(void)
{
    static enum goal goals[GOALS];
    struct CMUnitTest tests[GOALS + 2];
    for (int g = 0; g < GOALS; g++) {
        goals[g] = (enum goal)g;
        tests[g] = (struct CMUnitTest){
            .name = goal_name[g], .test_func = equals_the_solver, .initial_state = &goals[g]};
    }
    tests[GOALS] = (struct CMUnitTest)cmocka_unit_test(a_cutoff_is_kept);
    tests[GOALS + 1] = (struct CMUnitTest)cmocka_unit_test(memory_runs_out_cleanly);
    return _cmocka_run_group_tests("branch", tests, COUNT_OF(tests), NULL, NULL) != 0;
}
