/*
 * What a store and a target can ask of the search, one at a time, on a store that a person can
 * follow.
 */
#include "support/test.h"

#include "support/plain.h"
#include "support/solved.h"

static int set_up(void **state)
{
    *state = plain_make();
    return 0;
}

static int tear_down(void **state)
{
    gen_free(*state);
    return 0;
}

static struct solved solve_for(struct gen *g, enum wf_goal goal)
{
    struct solved s;
    solved_make(g, &goal, 1, 0, &s);
    return s;
}

static double grams_of(const struct gen *g, const struct solved *s, size_t hop)
{
    double grams = 0;
    for (size_t slot = 0; slot < g->target.slot_count; slot++)
        grams += s->weights.grams[slot * g->store.hop_count + hop];
    return grams;
}

/* ---- Lots ------------------------------------------------------------------------------------ */

static void lots_to_use(void **state)
{
    static const char *const use[] = {"roasted", "aromatic", NULL};
    struct gen *g = *state;
    struct solved s = solve_for(g, WF_GOAL_COST);
    assert_solved(g, &s, WF_GOAL_COST);
    double without = s.value;
    assert_true(grams_of(g, &s, AROMATIC) <= 0); /* the bitter one is cheaper a unit */
    solved_free(&s);
    g->target.use = use;
    s = solve_for(g, WF_GOAL_COST);
    assert_solved(g, &s, WF_GOAL_COST);
    assert_true(s.weights.kg[ROASTED] > 0);
    assert_true(grams_of(g, &s, AROMATIC) > 0);
    assert_true(s.value >= without - solved_room(WF_GOAL_COST, without));
    solved_free(&s);
}

static void lots_to_avoid(void **state)
{
    static const char *const avoid[] = {"pale", "bitter", NULL};
    struct gen *g = *state;
    g->target.avoid = avoid;
    struct solved s = solve_for(g, WF_GOAL_COST);
    assert_solved(g, &s, WF_GOAL_COST);
    assert_true(s.weights.kg[PALE] <= 0 && s.weights.kg[OLD_SACK] > 3);
    assert_true(grams_of(g, &s, BITTER) <= 0 && grams_of(g, &s, AROMATIC) > 0);
    solved_free(&s);
}

static void stock_runs_out(void **state)
{
    struct gen *g = *state;
    g->store.malts[PALE].have_kg = 2.37; /* 2.35 kg on a scale of 50 g */
    struct solved s = solve_for(g, WF_GOAL_COST);
    assert_solved(g, &s, WF_GOAL_COST);
    assert_close(s.weights.kg[PALE], 2.35, 1e-9);
    assert_true(s.weights.kg[OLD_SACK] > 1);
    solved_free(&s);
}

/* 4.2..4.6 kg of pale malt are wanted: one sack of 5 kg at 1.5 costs 7.50, more than as many kg of
 * a malt that is sold by weight at 1.6. At 1.2 the sack is the cheaper, and is paid for whole. */
static void packs_are_paid_whole(void **state)
{
    struct gen *g = *state;
    g->store.malts[PALE].pack_kg = 5;
    g->store.malts[OLD_SACK].price_per_kg = 1.6;
    struct solved s = solve_for(g, WF_GOAL_COST);
    assert_solved(g, &s, WF_GOAL_COST);
    assert_true(s.weights.kg[PALE] <= 0);
    solved_free(&s);
    g->store.malts[PALE].price_per_kg = 1.2;
    s = solve_for(g, WF_GOAL_COST);
    assert_solved(g, &s, WF_GOAL_COST);
    double rest = s.weights.kg[CRYSTAL] * 2.8 + s.weights.kg[ROASTED] * 2.6 + 4 +
                  0.04 * grams_of(g, &s, BITTER) + 0.045 * grams_of(g, &s, AROMATIC);
    assert_close(s.value - rest, 6, 1e-6);
    solved_free(&s);
}

/* One pack of hops serves two slots. */
static void hop_packs_serve_all_slots(void **state)
{
    struct gen *g = *state;
    struct wf_slot slots[2] = {plain_slots[0], plain_slots[1]};
    slots[0].dose = wf_range_any();
    slots[1].dose = (struct wf_range){1, 1, 1};
    slots[1].dosed = true;
    g->target.slots = slots;
    for (size_t h = 0; h < g->store.hop_count; h++)
        g->store.hops[h].pack_kg = 0.1;
    struct solved s = solve_for(g, WF_GOAL_COST);
    assert_solved(g, &s, WF_GOAL_COST);
    assert_true(grams_of(g, &s, BITTER) <= 0 || grams_of(g, &s, AROMATIC) <= 0);
    assert_int_equal(s.recipe->hop_count, 2);
    assert_close(s.recipe->hops[0].cost + s.recipe->hops[1].cost,
                 grams_of(g, &s, BITTER) > 0 ? 4.0 : 4.5, 1e-9);
    solved_free(&s);
}

static void old_hops_are_weaker(void **state)
{
    struct gen *g = *state;
    struct solved fresh = solve_for(g, WF_GOAL_COST), aged;
    double alpha;
    g->store.hops[AROMATIC].have_g = 0;
    g->store.hops[BITTER].packed = GEN_TODAY - 400;
    assert_int_equal(wf_alpha_after_storage(0.1, 0.35, 400, 20, WF_PACKED_OPEN, &alpha), WF_OK);
    aged = solve_for(g, WF_GOAL_COST);
    assert_solved(g, &fresh, WF_GOAL_COST);
    assert_solved(g, &aged, WF_GOAL_COST);
    assert_close(fresh.recipe->hops[0].addition.alpha, 0.1, 1e-12);
    assert_close(aged.recipe->hops[0].addition.alpha, alpha, 1e-12);
    assert_true(grams_of(g, &aged, BITTER) > 1.5 * grams_of(g, &fresh, BITTER));
    solved_free(&fresh);
    solved_free(&aged);
}

static void use_up_takes_the_opened_sack(void **state)
{
    struct gen *g = *state;
    g->store.malts[OLD_SACK].packed = GEN_TODAY - 500;
    g->store.malts[OLD_SACK].opened = GEN_TODAY - 200;
    g->store.malts[PALE].packed = GEN_TODAY - 30;
    struct solved cheap = solve_for(g, WF_GOAL_COST), old = solve_for(g, WF_GOAL_USE_UP);
    assert_solved(g, &cheap, WF_GOAL_COST);
    assert_solved(g, &old, WF_GOAL_USE_UP);
    assert_true(cheap.weights.kg[OLD_SACK] <= 0 && cheap.weights.kg[PALE] > 3);
    assert_true(old.weights.kg[PALE] <= 0 && old.weights.kg[OLD_SACK] > 3);
    solved_free(&cheap);
    solved_free(&old);
}

/* The figures are the brewer's affair: a slot longer than the boil is a slip to be told plainly. */
static void slot_longer_than_the_boil(void **state)
{
    struct gen *g = *state;
    struct wf_slot slot = plain_slots[0];
    slot.minutes = 90;
    slot.at = "90 min";
    slot.dose = wf_range_any();
    g->target.slots = &slot;
    g->target.slot_count = 1;
    struct solved s = solve_for(g, WF_GOAL_COST);
    if (s.status == WF_OK) /* taken as the whole boil */
        assert_close(s.recipe->hops[0].addition.minutes, 60, 1e-9);
    else
        assert_true(s.status == WF_BAD_INPUT && strstr(s.error.text, "90 min") != NULL);
    solved_free(&s);
}

static void nothing_in_the_store(void **state)
{
    struct gen *g = *state;
    g->store.hop_count = 0;
    struct solved s = solve_for(g, WF_GOAL_COST); /* bitterness is wanted */
    assert_int_equal(s.status, WF_NO_RECIPE);
    solved_free(&s);
    g->store.malt_count = 0;
    s = solve_for(g, WF_GOAL_COST);
    assert_int_equal(s.status, WF_NO_RECIPE);
    assert_true(s.error.text[0] != '\0');
    solved_free(&s);
}

/* The law of colour ends at 1000 MCU. Without a wish for colour the blackest of all base malts
 * would do, but no such beer can be reckoned; and where there is none else, there is no recipe. */
static void blacker_than_the_law(void **state)
{
    struct gen *g = *state;
    g->target.colour = wf_range_any();
    g->store.malts[PALE].grain.lovibond = 750;
    g->store.malts[PALE].price_per_kg = 0.1;
    struct solved s = solve_for(g, WF_GOAL_COST);
    assert_solved(g, &s, WF_GOAL_COST);
    assert_true(s.weights.kg[PALE] > 0 && s.weights.kg[OLD_SACK] > 0);
    assert_close(s.recipe->predicted.srm, 170, 8);
    solved_free(&s);
    g->target.colour = (struct wf_range){10, 20, (double)NAN};
    g->store.malts[OLD_SACK].have_kg = 0;
    s = solve_for(g, WF_GOAL_COST);
    assert_int_equal(s.status, WF_NO_RECIPE);
    assert_non_null(s.recipe); /* the nearest */
    assert_true(s.recipe->predicted.srm <= 170.5);
    solved_free(&s);
}

/* ---- Goals in order -------------------------------------------------------------------------- */

/* Cheaper among the closest; and as close as any of the cheapest. */
static void goals_keep_their_order(void **state)
{
    const enum wf_goal money_first[] = {WF_GOAL_COST, WF_GOAL_FEWEST};
    const enum wf_goal few_first[] = {WF_GOAL_FEWEST, WF_GOAL_COST};
    struct gen *g = *state;
    struct solved money, few, one = solve_for(g, WF_GOAL_COST);
    solved_make(g, money_first, 2, 0, &money);
    solved_make(g, few_first, 2, 0, &few);
    assert_solved(g, &money, WF_GOAL_COST);
    assert_solved(g, &few, WF_GOAL_FEWEST);
    assert_close(money.value, one.value, solved_room(WF_GOAL_COST, one.value));
    assert_string_equal(few.recipe->proofs[0].goal, "fewest");
    assert_string_equal(few.recipe->proofs[1].goal, "cost");
    assert_true(few.value <= money.recipe->proofs[1].value);
    assert_true(few.recipe->proofs[1].value >=
                money.value - solved_room(WF_GOAL_COST, money.value));
    solved_free(&one);
    solved_free(&money);
    solved_free(&few);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
#define WAY(test) cmocka_unit_test_setup_teardown(test, set_up, tear_down)
        WAY(lots_to_use),
        WAY(lots_to_avoid),
        WAY(stock_runs_out),
        WAY(packs_are_paid_whole),
        WAY(hop_packs_serve_all_slots),
        WAY(old_hops_are_weaker),
        WAY(use_up_takes_the_opened_sack),
        WAY(slot_longer_than_the_boil),
        WAY(nothing_in_the_store),
        WAY(blacker_than_the_law),
        WAY(goals_keep_their_order),
#undef WAY
    };
    return cmocka_run_group_tests_name("ways", tests, NULL, NULL) != 0;
}
