/*
 * Why there is no recipe, against enumeration: tiny problems of which every weight is tried. A
 * change is told of a wish if and only if leaving that wish out, all else as it was, gives a
 * recipe; what is told gives one, and with a last digit less there is none. Neither search nor
 * models are asked.
 */
#include "support/test.h"

#include "support/brute.h"
#include "support/refused.h"

#define SEEDS        PART_OF(90)
#define LEAST_CASES  PART_OF(40)
#define DEMANDS_MOST 120

static struct {
    size_t cases, alone, not_alone, less, unsure;
} seen;

/* By enumeration: surely, perhaps (to a solver's tolerance), or not at all. */
enum there { THERE_NOT, THERE_PERHAPS, THERE_SURELY };

static enum there is_there(struct refused *r)
{
    struct brute b;
    brute_search(r->g, &b);
    return isfinite(b.best[WF_GOAL_COST][BRUTE_SURE])      ? THERE_SURELY
           : isfinite(b.best[WF_GOAL_COST][BRUTE_PERHAPS]) ? THERE_PERHAPS
                                                           : THERE_NOT;
}

static void fail_with(const struct refused *r, const char *what, const struct wf_demand *d)
{
    gen_print(r->g, stderr);
    fail_msg("seed %llu: %s (%s, end %d, index %zu)", (unsigned long long)r->seed, what,
             wf_demand_word(d->kind), (int)d->end, d->index);
}

/* ---- Each wish alone ------------------------------------------------------------------------- */

static bool is_told(const struct wf_reasons *why, const struct wf_demand *d)
{
    for (size_t i = 0; i < why->remedy_count; i++)
        if (why->remedies[i].shift_count == 1 &&
            refused_same(&why->remedies[i].shifts[0].demand, d))
            return true;
    return false;
}

static void check_wish(const struct refused *given, const struct wf_reasons *why,
                       const struct wf_demand *d)
{
    struct refused r = refused_make(given->seed, true);
    refused_drop(&r, d);
    enum there there = is_there(&r);
    refused_free(&r);
    bool told = is_told(why, d);
    seen.unsure += there == THERE_PERHAPS;
    seen.alone += there == THERE_SURELY;
    seen.not_alone += there == THERE_NOT;
    if (there == THERE_SURELY && !told)
        fail_with(given, "a wish that would do alone is not told", d);
    if (there == THERE_NOT && told)
        fail_with(given, "a wish is told that does not do alone", d);
}

/* The greatest gravity, left out, leaves too many weights to try. */
static bool can_be_tried(const struct wf_demand *d)
{
    return d->kind < WF_DEMAND_MALTS && !(d->kind == WF_DEMAND_OG && d->end == WF_END_MOST);
}

/* ---- Each change ----------------------------------------------------------------------------- */

static void check_change(const struct refused *given, const struct wf_remedy *m, size_t less)
{
    struct refused r = refused_remedied(given, m, WF_UNITS_METRIC, less);
    enum there there = is_there(&r);
    refused_free(&r);
    if (less == SIZE_MAX && there == THERE_NOT)
        fail_with(given, "a change does not do", &m->shifts[0].demand);
    if (less != SIZE_MAX && there == THERE_SURELY)
        fail_with(given, "less of a change would do", &m->shifts[less].demand);
    seen.less += less != SIZE_MAX;
}

static void check_changes(const struct refused *given, const struct wf_reasons *why)
{
    for (size_t i = 0; i < why->remedy_count; i++) {
        const struct wf_remedy *m = &why->remedies[i];
        check_change(given, m, SIZE_MAX);
        for (size_t k = 0; k < m->shift_count; k++)
            if (m->shifts[k].least && (!isnan(m->shifts[k].to) || !isnan(m->shifts[k].more)))
                check_change(given, m, k);
    }
}

/* ---- One problem ----------------------------------------------------------------------------- */

static void check_case(const struct refused *r)
{
    static struct wf_error e;
    static struct wf_demand demands[DEMANDS_MOST];
    const struct wf_solve_options o = {.today = GEN_TODAY};
    struct wf_reasons *why = NULL;
    wf_error_clear(&e);
    assert_int_equal(wf_solve_reasons(&r->g->target, &r->g->store, &r->shop->store,
                                      &r->g->brewhouse, &o, WF_UNITS_METRIC, &why, &e),
                     WF_OK);
    assert_true(why->complete && why->conflict_count > 0);
    size_t count = refused_demands(r, demands, DEMANDS_MOST);
    for (size_t i = 0; i < count; i++)
        if (can_be_tried(&demands[i]))
            check_wish(r, why, &demands[i]);
    check_changes(r, why);
    wf_reasons_free(why);
    seen.cases++;
}

static void one_case(void **state)
{
    struct refused r = refused_make(*(const uint64_t *)*state, true);
    enum there there = is_there(&r);
    enum wf_status status = refused_solve(&r);
    if (there != THERE_PERHAPS)
        assert_int_equal(status, there == THERE_SURELY ? WF_OK : WF_NO_RECIPE);
    if (there == THERE_NOT)
        check_case(&r);
    refused_free(&r);
}

static void enough_was_seen(void **state)
{
    (void)state;
    print_message(
        "%zu problems: %zu wishes do alone, %zu do not, %zu unsure; %zu changes tried with "
        "less\n",
        seen.cases, seen.alone, seen.not_alone, seen.unsure, seen.less);
    assert_true(seen.cases >= LEAST_CASES && seen.alone >= LEAST_CASES && seen.less >= LEAST_CASES);
    assert_true(seen.unsure <= 10);
}

int main(void)
{
    static uint64_t seeds[SEEDS];
    static char names[SEEDS][32];
    static struct CMUnitTest tests[SEEDS + 1];
    for (size_t i = 0; i < SEEDS; i++) {
        seeds[i] = 5000 + i;
        snprintf(names[i], sizeof names[i], "seed %zu", 5000 + i);
        tests[i] = (struct CMUnitTest){names[i], one_case, NULL, NULL, &seeds[i]};
    }
    tests[SEEDS] = (struct CMUnitTest)cmocka_unit_test(enough_was_seen);
    return cmocka_run_group_tests_name("reasons by enumeration", tests, NULL, NULL) != 0;
}
