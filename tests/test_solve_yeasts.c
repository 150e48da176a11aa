/*
 * Which yeast the search takes: the cheapest that ferments the beer as wished, but first those that
 * the target prefers, and only those that it lets in.
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

/* ---- Yeast ----------------------------------------------------------------------------------- */

static void check_yeast(struct gen *g, size_t want)
{
    struct solved s = solve_for(g, WF_GOAL_COST);
    assert_solved(g, &s, WF_GOAL_COST);
    assert_int_equal(s.weights.yeast, want);
    solved_free(&s);
}

static void cheapest_yeast_without_wishes(void **state)
{
    check_yeast(*state, SWEET);
}

static void final_gravity_chooses_the_yeast(void **state)
{
    struct gen *g = *state;
    g->target.fg = (struct wf_range){1.005, 1.013, (double)NAN};
    check_yeast(g, DRY);
    g->target.fg = (struct wf_range){1.016, 1.022, (double)NAN};
    check_yeast(g, SWEET);
}

static void alcohol_chooses_the_yeast(void **state)
{
    struct gen *g = *state;
    g->target.abv = (struct wf_range){0.049, (double)INFINITY, (double)NAN};
    check_yeast(g, DRY);
    g->target.abv = (struct wf_range){-(double)INFINITY, 0.045, (double)NAN};
    check_yeast(g, SWEET);
}

/* The list's order is one of preference: before the price, and before `use` of none. */
static void first_listed_yeast_that_suits(void **state)
{
    static const char *const dry_first[] = {"lager", "sweet", NULL};
    static const char *const sweet_first[] = {"ale", "dry", NULL};
    struct gen *g = *state;
    g->target.yeasts = dry_first;
    check_yeast(g, DRY);
    g->target.yeasts = sweet_first;
    check_yeast(g, SWEET);
    g->target.fg = (struct wf_range){1.005, 1.013, (double)NAN}; /* which the first cannot give */
    check_yeast(g, DRY);
}

static void yeast_to_use_and_to_avoid(void **state)
{
    static const char *const dry[] = {"dry", NULL};
    static const char *const sweet[] = {"sweet", NULL};
    struct gen *g = *state;
    g->target.avoid = sweet;
    check_yeast(g, DRY);
    g->target.avoid = NULL;
    g->target.attenuation = (struct wf_range){0.75, 0.85, (double)NAN};
    check_yeast(g, DRY);
    g->target.attenuation = wf_range_any();
    g->target.use = dry;
    struct solved s =
        solve_for(g, WF_GOAL_COST); /* the judge looks for `use` among grain and hops */
    assert_int_equal(s.status, WF_OK);
    assert_int_equal(s.weights.yeast, DRY);
    solved_free(&s);
}

static void no_yeast_suits(void **state)
{
    struct gen *g = *state;
    g->target.attenuation = (struct wf_range){0.9, 0.95, (double)NAN};
    struct solved s = solve_for(g, WF_GOAL_COST);
    bool told = false;
    assert_case(g, &s, s.status == WF_NO_RECIPE && s.recipe != NULL);
    for (size_t i = 0; i < s.recipe->wish_count; i++)
        told = told || (strstr(s.recipe->wishes[i].wish, "yeast") && !s.recipe->wishes[i].met);
    assert_case(g, &s, told);
    solved_free(&s);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
#define WAY(test) cmocka_unit_test_setup_teardown(test, set_up, tear_down)
        WAY(cheapest_yeast_without_wishes), WAY(final_gravity_chooses_the_yeast),
        WAY(alcohol_chooses_the_yeast),     WAY(first_listed_yeast_that_suits),
        WAY(yeast_to_use_and_to_avoid),     WAY(no_yeast_suits),
#undef WAY
    };
    return cmocka_run_group_tests_name("yeasts", tests, NULL, NULL) != 0;
}
