/*
 * Reasons at their limits, and their reports: a recipe that exists, nothing to brew with, hardly
 * any time, cancelled, out of memory at every allocation, names that are no names.
 */
#include "support/test.h"

#include "support/memory.h"
#include "support/refused.h"
#include "wortfit/wortfit.h"

/* A problem whose reasons are of wishes and of the store, with changes of each kind. */
#define SEED 11

static enum wf_status ask(const struct refused *r, const struct wf_solve_options *o,
                          struct wf_reasons **why, struct wf_error *e)
{
    return wf_solve_reasons(&r->g->target, &r->g->store, &r->shop->store, &r->g->brewhouse, o,
                            WF_UNITS_METRIC, why, e);
}

/* The first problem from there on that has no recipe. */
static struct refused refuse(uint64_t seed)
{
    for (;; seed++) {
        struct refused r = refused_make(seed, false);
        if (refused_solve(&r) == WF_NO_RECIPE)
            return r;
        refused_free(&r);
    }
}

static void expect_text(const char *text, const char *part)
{
    if (!strstr(text, part))
        fail_msg("\"%s\" is not in:\n%s", part, text);
}

/* ---- Ends ------------------------------------------------------------------------------------ */

static void a_recipe_exists(void **state)
{
    const struct wf_solve_options o = {.today = GEN_TODAY};
    struct wf_reasons *why;
    (void)state;
    struct refused r = refused_make(1, false);
    for (uint64_t seed = 2; refused_solve(&r) != WF_OK; seed++) {
        refused_free(&r);
        r = refused_make(seed, false);
    }
    assert_int_equal(ask(&r, &o, &why, NULL), WF_OK);
    assert_true(why->complete);
    assert_int_equal(why->conflict_count, 0);
    assert_int_equal(why->remedy_count, 0);
    wf_reasons_free(why);
    wf_reasons_free(NULL);
    refused_free(&r);
}

static void nothing_to_brew_with(void **state)
{
    const struct wf_solve_options o = {.today = GEN_TODAY};
    const struct wf_report_style s = {WF_UNITS_METRIC, false};
    struct refused r = refuse(SEED);
    struct wf_reasons *why;
    char *text;
    (void)state;
    r.g->store.malt_count = 0;
    assert_int_equal(wf_solve_reasons(&r.g->target, &r.g->store, NULL, &r.g->brewhouse, &o,
                                      WF_UNITS_METRIC, &why, NULL),
                     WF_OK);
    assert_int_equal(why->conflict_count, 1);
    assert_int_equal(why->conflicts[0].demand_count, 0);
    assert_true(why->conflicts[0].irreducible);
    assert_int_equal(why->remedy_count, 0);
    assert_int_equal(wf_report_none_text(why, NULL, &s, &text, NULL), WF_OK);
    expect_text(text, "There is none whatever is wished");
    wf_text_release(text);
    wf_reasons_free(why);
    refused_free(&r);
}

static void cancelled(void **state)
{
    static struct wf_error e;
    volatile bool cancel = true;
    const struct wf_solve_options o = {.today = GEN_TODAY, .cancel = &cancel};
    struct refused r = refuse(SEED);
    struct wf_reasons *why = NULL;
    (void)state;
    assert_int_equal(ask(&r, &o, &why, &e), WF_CANCELLED);
    assert_null(why);
    assert_true(e.text[0] != '\0');
    refused_free(&r);
}

/* Nothing is claimed that was not settled. */
static void hardly_any_time(void **state)
{
    const struct wf_solve_options o = {.today = GEN_TODAY, .seconds = 1e-6};
    const struct wf_report_style s = {WF_UNITS_METRIC, false};
    struct refused r = refuse(SEED);
    struct wf_reasons *why;
    char *text;
    (void)state;
    assert_int_equal(ask(&r, &o, &why, NULL), WF_OK);
    assert_false(why->complete);
    for (size_t i = 0; i < why->conflict_count; i++)
        assert_false(why->conflicts[i].irreducible);
    assert_int_equal(wf_report_none_text(why, NULL, &s, &text, NULL), WF_OK);
    expect_text(text, "give more with --time");
    wf_text_release(text);
    wf_reasons_free(why);
    refused_free(&r);
}

static void count_calls(void *data, double seconds, double value, double bound)
{
    assert_true(seconds >= 0 && isnan(value) && isnan(bound));
    ++*(size_t *)data;
}

static void progress_is_told(void **state)
{
    size_t calls = 0;
    const struct wf_solve_options o = {
        .today = GEN_TODAY, .progress = count_calls, .progress_data = &calls};
    struct refused r = refuse(SEED);
    struct wf_reasons *why;
    (void)state;
    assert_int_equal(ask(&r, &o, &why, NULL), WF_OK);
    assert_true(calls > 3 && calls <= why->solves);
    wf_reasons_free(why);
    refused_free(&r);
}

static char *text_of(uint64_t seed, enum wf_units units)
{
    const struct wf_solve_options o = {.today = GEN_TODAY};
    const struct wf_report_style s = {units, false};
    struct refused r = refuse(seed);
    struct wf_reasons *why;
    char *text;
    assert_int_equal(wf_solve_reasons(&r.g->target, &r.g->store, &r.shop->store, &r.g->brewhouse,
                                      &o, units, &why, NULL),
                     WF_OK);
    assert_int_equal(wf_report_none_text(why, NULL, &s, &text, NULL), WF_OK);
    wf_reasons_free(why);
    refused_free(&r);
    return text;
}

/* Work, not time, bounds it: twice the same is said twice. */
static void the_same_twice(void **state)
{
    (void)state;
    for (uint64_t seed = 20; seed < 20 + PART_OF(10); seed++) {
        char *one = text_of(seed, WF_UNITS_US), *other = text_of(seed, WF_UNITS_US);
        assert_string_equal(one, other);
        assert_null(strstr(one, " kg"));
        assert_null(strstr(one, "g/L"));
        wf_text_release(one);
        wf_text_release(other);
    }
}

/* ---- Memory ---------------------------------------------------------------------------------- */

static enum wf_status solve(void *data, struct wf_error *e)
{
    const struct wf_solve_options o = {.today = GEN_TODAY};
    struct wf_reasons *why = NULL;
    enum wf_status status = ask(data, &o, &why, e);
    wf_reasons_free(why);
    return status;
}

static void memory_runs_out(void **state)
{
    (void)state;
    struct refused r = refuse(SEED);
    check_memory_is_told(solve, &r, 500, 7 * WF_ONE_CASE_IN);
    refused_free(&r);
}

static enum wf_status write_text(void *data, struct wf_error *e)
{
    const struct wf_report_style s = {WF_UNITS_METRIC, true};
    char *text = NULL;
    enum wf_status status = wf_report_none_text(data, NULL, &s, &text, e);
    wf_text_release(text);
    return status;
}

static enum wf_status write_json(void *data, struct wf_error *e)
{
    char *text = NULL;
    enum wf_status status = wf_report_none_json(data, NULL, &text, e);
    wf_text_release(text);
    return status;
}

static void memory_runs_out_in_a_report(void **state)
{
    const struct wf_solve_options o = {.today = GEN_TODAY};
    struct refused r = refuse(SEED);
    struct wf_reasons *why;
    (void)state;
    assert_int_equal(ask(&r, &o, &why, NULL), WF_OK);
    check_out_of_memory(write_text, why, 4, 1);
    check_out_of_memory(write_json, why, 4, 1);
    wf_reasons_free(why);
    refused_free(&r);
}

/* ---- Words ----------------------------------------------------------------------------------- */

/* What is told of made-up reasons, of which every text tries to reach the terminal. */
static void names_are_made_safe(void **state)
{
    const struct wf_demand colour = {.kind = WF_DEMAND_COLOUR,
                                     .end = WF_END_MOST,
                                     .subject = "col\033[2Jour",
                                     .dimension = WF_DIM_BEER_COLOUR,
                                     .bound = 5};
    const struct wf_demand malts = {
        .kind = WF_DEMAND_MALTS, .subject = "the malts\a", .dimension = WF_DIM_MASS, .bound = NAN};
    const struct wf_demand both[] = {colour, malts};
    const struct wf_conflict conflicts[] = {{both, 2, false}, {&malts, 1, true}};
    const struct wf_shift move = {
        .demand = colour, .to = 6.5, .more = NAN, .cost = NAN, .least = false};
    const struct wf_shift more = {.demand = malts,
                                  .id = "pale",
                                  .name = "pa\033le",
                                  .shop = true,
                                  .to = 0.45,
                                  .more = 0.45,
                                  .cost = 1.5,
                                  .currency = "E\aUR",
                                  .least = true};
    const struct wf_remedy remedies[] = {
        {.shifts = &move, .shift_count = 1, .cost = NAN, .currency = ""},
        {.shifts = &more,
         .shift_count = 1,
         .bought = true,
         .cost = 1.5,
         .currency = "E\aUR",
         .note = "invented\033"}};
    const struct wf_reasons why = {.target = "A\033mber",
                                   .batch_l = 20,
                                   .conflicts = conflicts,
                                   .conflict_count = 2,
                                   .remedies = remedies,
                                   .remedy_count = 2};
    const struct wf_report_style s = {WF_UNITS_METRIC, false};
    char *text, *json;
    (void)state;
    assert_int_equal(wf_report_none_text(&why, NULL, &s, &text, NULL), WF_OK);
    assert_int_equal(wf_report_none_json(&why, NULL, &json, NULL), WF_OK);
    assert_null(strpbrk(text, "\033\007"));
    assert_null(strpbrk(json, "\033\007"));
    expect_text(text, "A?mber, 20 L: no recipe meets every wish");
    expect_text(text, "These cannot hold together, perhaps fewer of them:");
    expect_text(text, "  col?[2Jour at most 5 SRM\n  the malts?\n");
    expect_text(text, "  1  col?[2Jour up to 6.5 SRM, perhaps less");
    expect_text(text, "  2  450 g of pa?le (not in the store): 1.50 E?UR");
    expect_text(text, "Prices of what is to be got: invented?");
    expect_text(json, "\"irreducible\": false");
    expect_text(json, "\"complete\": false");
    wf_text_release(text);
    wf_text_release(json);
}

static void every_kind_has_a_word(void **state)
{
    (void)state;
    for (int a = 0; a < WF_DEMAND_COUNT_OF; a++)
        for (int b = 0; b < a; b++)
            assert_string_not_equal(wf_demand_word((enum wf_demand_kind)a),
                                    wf_demand_word((enum wf_demand_kind)b));
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_recipe_exists),     cmocka_unit_test(nothing_to_brew_with),
        cmocka_unit_test(cancelled),           cmocka_unit_test(hardly_any_time),
        cmocka_unit_test(progress_is_told),    cmocka_unit_test(the_same_twice),
        cmocka_unit_test(memory_runs_out),     cmocka_unit_test(memory_runs_out_in_a_report),
        cmocka_unit_test(names_are_made_safe), cmocka_unit_test(every_kind_has_a_word),
    };
    return cmocka_run_group_tests_name("reasons at their limits", tests, NULL, NULL) != 0;
}
