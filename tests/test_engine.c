/* The engine itself: its claims come with their proofs in the first way of asking, and one call
 * leaves no trace in the next. */
#include "support/test.h"

#include "solve/engine.h"
#include "support/dice.h"
#include "support/solver_models.h"

#define ROOM 64

struct bench {
    struct wf_model *m;
    struct wf_program p;
    struct wf_engine *g;
    double x[ROOM], dual[ROOM], reduced[ROOM];
};

static void set_up(struct bench *b, struct wf_model *m)
{
    b->m = m;
    assert_true(wf_model_columns(m) <= ROOM && wf_model_rows(m) <= ROOM);
    assert_true(wf_program_init(&b->p, m));
    int rows[ROOM];
    for (int i = 0; i < b->p.rows; i++)
        rows[i] = i;
    assert_int_equal(wf_engine_open(m, &b->p, rows, b->p.rows, &b->g, NULL), WF_OK);
    assert_true(wf_engine_alive(b->g));
}

static void tear_down(struct bench *b)
{
    wf_engine_close(b->g);
    wf_program_clear(&b->p);
    wf_model_free(b->m);
}

static struct wf_engine_simplex ask(struct bench *b, int way, double cutoff)
{
    struct wf_engine_simplex s = {
        .way = way, .cutoff = cutoff, .seconds = HUGE_VAL, .x = b->x, .dual = b->dual};
    assert_int_equal(wf_engine_simplex(b->g, &s, NULL), WF_OK);
    return s;
}

static struct wf_engine_search search(struct bench *b, bool careful, double cutoff)
{
    static const struct wf_solver_options o;
    struct wf_engine_search s = {
        .options = &o, .careful = careful, .cutoff = cutoff, .seconds = HUGE_VAL, .x = b->x};
    assert_int_equal(wf_engine_search(b->g, &s, NULL), WF_OK);
    return s;
}

/* ---- The simplex ----------------------------------------------------------------------------- */

static void every_way_finds_the_optimum(void **state)
{
    (void)state;
    for (int way = 0; way < WF_ENGINE_WAYS; way++) {
        struct bench b;
        set_up(&b, easy());
        struct wf_engine_simplex s = ask(&b, way, HUGE_VAL);
        assert_true(s.known);
        assert_int_equal(s.outcome, WF_OUTCOME_OPTIMAL);
        assert_close(s.value, -13, 1e-9);
        assert_close(wf_program_bound(&b.p, b.dual, b.reduced), -13, 1e-9);
        assert_close(wf_model_value(b.m, b.x), -13, 1e-9);
        tear_down(&b);
    }
}

/* Random programs without a point: the dual simplex names the row that cannot be met, and that is a
 * proof; likewise for a value at the cutoff. */
static void infeasible_comes_with_its_proof(void **state)
{
    (void)state;
    struct dice d = {51};
    int claimed = 0, proved = 0, cut = 0, cut_proved = 0;
    for (int n = 0; n < 400; n++) {
        struct bench b;
        struct wf_model *m = wf_model_new();
        for (int j = 0; j < 8; j++)
            wf_model_column(m, dice_decimal(&d, -30, 0, 10), dice_decimal(&d, 1, 30, 10),
                            dice_decimal(&d, -9, 9, 1), false, "c");
        for (int i = 0; i < 6; i++) {
            double middle = dice_decimal(&d, -90, 90, 10);
            wf_model_row(m, dice_chance(&d, 50) ? middle : -HUGE_VAL, middle + 1, "r");
            for (int j = 0; j < 8; j++)
                wf_model_term(m, i, j, dice_decimal(&d, -30, 30, 10));
        }
        set_up(&b, m);
        struct wf_engine_simplex s = ask(&b, 0, HUGE_VAL);
        if (s.known && s.outcome == WF_OUTCOME_INFEASIBLE) {
            claimed++;
            proved += wf_program_refuted(&b.p, b.dual, b.reduced);
        } else if (s.known && s.outcome == WF_OUTCOME_OPTIMAL) {
            double cutoff = s.value - 1;
            s = ask(&b, 1, cutoff);
            cut += s.at_cutoff;
            cut_proved += s.at_cutoff && wf_program_bound(&b.p, b.dual, b.reduced) >= cutoff - 1e-9;
        }
        tear_down(&b);
    }
    assert_true(claimed >= 50 && proved >= claimed * 9 / 10);
    assert_true(cut >= 50 && cut_proved >= cut * 9 / 10);
}

/* ---- Branch and bound ------------------------------------------------------------------------ */

/* A model whose values are far from 0 by its offset: whole optimum 1000 - 13. */
static struct wf_model *offset(void)
{
    struct wf_model *m = easy();
    wf_model_set_offset(m, 1000);
    wf_model_set_row(m, 2, -HUGE_VAL, 7.5); /* so that the relaxed optimum is not whole */
    return m;
}

static void cutoffs_leave_no_trace(void **state)
{
    (void)state;
    for (int careful = 0; careful < 2; careful++) {
        struct bench b;
        set_up(&b, offset());
        double relaxed = ask(&b, 0, HUGE_VAL).value;
        struct wf_engine_search free = search(&b, careful, HUGE_VAL);
        assert_int_equal(free.outcome, WF_OUTCOME_OPTIMAL);
        assert_true(free.bound > relaxed + 0.1); /* it had to branch */
        struct wf_engine_search none = search(&b, careful, free.bound - 0.5);
        assert_int_equal(none.outcome, WF_OUTCOME_INFEASIBLE);
        assert_close(none.bound, free.bound - 0.5, 0);
        none = search(&b, careful, relaxed - 5); /* not even a relaxed point */
        assert_int_equal(none.outcome, WF_OUTCOME_INFEASIBLE);
        assert_close(ask(&b, 0, HUGE_VAL).value, relaxed, 1e-9);
        struct wf_engine_search again = search(&b, careful, free.bound + 0.5);
        assert_int_equal(again.outcome, WF_OUTCOME_OPTIMAL);
        assert_close(again.bound, free.bound, 1e-9);
        assert_close(wf_model_value(b.m, b.x), free.bound, 1e-6);
        tear_down(&b);
    }
}

static void the_careful_way_sees_no_point(void **state)
{
    (void)state;
    struct bench b;
    set_up(&b, parity_easy());
    assert_int_equal(ask(&b, 0, HUGE_VAL).outcome, WF_OUTCOME_OPTIMAL);
    for (int careful = 0; careful < 2; careful++) {
        struct wf_engine_search s = search(&b, careful, HUGE_VAL);
        assert_int_equal(s.outcome, WF_OUTCOME_INFEASIBLE);
        assert_true(s.bound == HUGE_VAL);
    }
    tear_down(&b);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(every_way_finds_the_optimum),
        cmocka_unit_test(infeasible_comes_with_its_proof),
        cmocka_unit_test(cutoffs_leave_no_trace),
        cmocka_unit_test(the_careful_way_sees_no_point),
    };
    return cmocka_run_group_tests_name("engine", tests, NULL, NULL) != 0;
}
