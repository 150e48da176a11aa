/*
 * Why there is no recipe, on generated problems. Of what is told nothing is taken on trust: each
 * conflict is tried with all else left out, whole and without each of its members; each change is
 * made by this test's own hand, and with a last digit less; and whether there is a recipe is asked
 * of wf_solve every time.
 */
#include "support/test.h"

#include "support/refused.h"

#define SEEDS        PART_OF(260)
#define LEAST_CASES  PART_OF(120)
#define DEMANDS_MOST 200

static struct {
    size_t cases, conflicts, members, remedies, shifts, moved, let_in, dropped, bought, together,
        less;
    size_t
        unsettled; /* problems of which not all was settled: then only what is claimed is tried */
    size_t kinds[WF_DEMAND_COUNT_OF];
} seen;

static enum wf_units units_of(uint64_t seed)
{
    return seed % 3 == 0 ? WF_UNITS_US : WF_UNITS_METRIC;
}

static void fail_with(const struct refused *r, const char *what, const struct wf_demand *d)
{
    gen_print(r->g, stderr);
    fail_msg("seed %llu: %s (%s, end %d, index %zu, part %zu, bound %g)",
             (unsigned long long)r->seed, what, d ? wf_demand_word(d->kind) : "-",
             d ? (int)d->end : 0, d ? d->index : 0, d ? d->part : 0, d ? d->bound : 0);
}

/* ---- Conflicts ------------------------------------------------------------------------------- */

static bool holds(const struct wf_conflict *c, const struct wf_demand *d,
                  const struct wf_demand *but)
{
    for (size_t i = 0; i < c->demand_count; i++)
        if (&c->demands[i] != but && refused_same(&c->demands[i], d))
            return true;
    return false;
}

/* With none but the conflict's demands held, and of those not `but`. */
static enum wf_status with_conflict(uint64_t seed, bool tiny, const struct wf_conflict *c,
                                    const struct wf_demand *but)
{
    static struct wf_demand all[DEMANDS_MOST];
    struct refused r = refused_make(seed, tiny);
    size_t count = refused_demands(&r, all, DEMANDS_MOST);
    for (size_t i = 0; i < count; i++)
        if (!holds(c, &all[i], but))
            refused_drop(&r, &all[i]);
    enum wf_status status = refused_solve(&r);
    refused_free(&r);
    return status;
}

static void check_conflict(const struct refused *r, const struct wf_conflict *c)
{
    if (with_conflict(r->seed, r->tiny, c, NULL) != WF_NO_RECIPE)
        fail_with(r, "the demands of a conflict can hold together", &c->demands[0]);
    for (size_t i = 0; c->irreducible && i < c->demand_count; i++) {
        seen.kinds[c->demands[i].kind]++;
        if (with_conflict(r->seed, r->tiny, c, &c->demands[i]) != WF_OK)
            fail_with(r, "a conflict stands without one of its members", &c->demands[i]);
    }
    seen.conflicts++;
    seen.members += c->demand_count;
}

static void check_apart(const struct refused *r, const struct wf_reasons *why)
{
    for (size_t i = 0; i < why->conflict_count; i++)
        for (size_t k = 0; k < i; k++)
            for (size_t m = 0; m < why->conflicts[i].demand_count; m++) {
                const struct wf_demand *d = &why->conflicts[i].demands[m];
                if (d->kind < WF_DEMAND_MALTS && holds(&why->conflicts[k], d, NULL))
                    fail_with(r, "a wish is in two conflicts", d);
            }
}

/* ---- Changes --------------------------------------------------------------------------------- */

/* All of the remedy's shifts; of shift `less` one digit less. */
static enum wf_status with_remedy(const struct refused *given, const struct wf_remedy *m,
                                  size_t less)
{
    struct refused r = refused_remedied(given, m, units_of(given->seed), less);
    enum wf_status status = refused_solve(&r);
    refused_free(&r);
    return status;
}

static void count_shift(const struct wf_shift *s)
{
    seen.shifts++;
    seen.bought += isnan(s->more) ? 0 : 1;
    seen.let_in += isnan(s->more) && s->id;
    seen.moved += isnan(s->more) && !s->id && !isnan(s->to);
    seen.dropped += isnan(s->more) && !s->id && isnan(s->to);
}

static void check_shift(const struct refused *r, const struct wf_remedy *m, size_t i)
{
    const struct wf_shift *s = &m->shifts[i];
    bool figure = !isnan(s->more) || !isnan(s->to);
    count_shift(s);
    if (!figure || !s->least)
        return;
    seen.less++;
    if (with_remedy(r, m, i) != WF_NO_RECIPE)
        fail_with(r, "less of a change would do", &s->demand);
}

static void check_remedy(const struct refused *r, const struct wf_remedy *m)
{
    if (with_remedy(r, m, SIZE_MAX) != WF_OK)
        fail_with(r, "a change does not do", &m->shifts[0].demand);
    for (size_t i = 0; i < m->shift_count; i++)
        check_shift(r, m, i);
    seen.remedies++;
    seen.together += m->shift_count > 1;
}

/* Wishes first, the smallest change first; then what to get, cheapest first. */
static void check_order(const struct refused *r, const struct wf_reasons *why)
{
    for (size_t i = 1; i < why->remedy_count; i++) {
        const struct wf_remedy *a = &why->remedies[i - 1], *b = &why->remedies[i];
        if (a->bought && !b->bought)
            fail_with(r, "what to get is told before a change of wishes", NULL);
        if (a->bought == b->bought && (a->bought ? a->cost > b->cost : a->notches > b->notches))
            fail_with(r, "a smaller or cheaper change is told later", NULL);
    }
}

/* ---- One problem ----------------------------------------------------------------------------- */

static struct wf_reasons *reasons_of(const struct refused *r, struct wf_error *e)
{
    const struct wf_solve_options o = {.today = GEN_TODAY};
    struct wf_reasons *why = NULL;
    if (wf_solve_reasons(&r->g->target, &r->g->store, &r->shop->store, &r->g->brewhouse, &o,
                         units_of(r->seed), &why, e) != WF_OK)
        fail_with(r, e->text, NULL);
    return why;
}

/* Where all was settled, all is proved. */
static void check_claims(const struct refused *r, const struct wf_reasons *why)
{
    if (!why->complete)
        return;
    if (why->conflict_count == 0)
        fail_with(r, "no conflict is told", NULL);
    for (size_t i = 0; i < why->conflict_count; i++)
        if (!why->conflicts[i].irreducible)
            fail_with(r, "a conflict is not proved to be irreducible", NULL);
    for (size_t i = 0; i < why->remedy_count; i++)
        for (size_t k = 0; k < why->remedies[i].shift_count; k++)
            if (!why->remedies[i].shifts[k].least)
                fail_with(r, "a change is not proved to be the least",
                          &why->remedies[i].shifts[k].demand);
}

static void one_case(void **state)
{
    static struct wf_error e;
    uint64_t seed = *(const uint64_t *)*state;
    struct refused r = refused_make(seed, false);
    enum wf_status status = refused_solve(&r);
    wf_error_clear(&e);
    if (status == WF_NO_RECIPE) {
        struct wf_reasons *why = reasons_of(&r, &e);
        seen.cases++;
        seen.unsettled += !why->complete;
        check_claims(&r, why);
        for (size_t i = 0; i < why->conflict_count; i++)
            check_conflict(&r, &why->conflicts[i]);
        check_apart(&r, why);
        for (size_t i = 0; i < why->remedy_count; i++)
            check_remedy(&r, &why->remedies[i]);
        check_order(&r, why);
        wf_reasons_free(why);
    } else if (status != WF_OK) {
        fail_with(&r, "neither a recipe nor none", NULL);
    }
    refused_free(&r);
}

static void enough_was_seen(void **state)
{
    (void)state;
    print_message(
        "%zu problems, %zu conflicts of %zu demands, %zu remedies of %zu changes: %zu ends "
        "moved, %zu let in, %zu left out, %zu got; %zu of several; %zu tried with less\n",
        seen.cases, seen.conflicts, seen.members, seen.remedies, seen.shifts, seen.moved,
        seen.let_in, seen.dropped, seen.bought, seen.together, seen.less);
    for (int k = 0; k < WF_DEMAND_COUNT_OF; k++)
        print_message("%s %zu  ", wf_demand_word((enum wf_demand_kind)k), seen.kinds[k]);
    print_message("\n");
    assert_true(seen.unsettled <= 2 && seen.cases >= LEAST_CASES && seen.remedies >= LEAST_CASES);
    assert_true(seen.moved >= PART_OF(30) && seen.let_in >= PART_OF(10) &&
                seen.bought >= PART_OF(50) && seen.together >= PART_OF(10));
}

int main(void)
{
    static uint64_t seeds[SEEDS];
    static char names[SEEDS][32];
    static struct CMUnitTest tests[SEEDS + 1];
    for (size_t i = 0; i < SEEDS; i++) {
        seeds[i] = i + 1;
        snprintf(names[i], sizeof names[i], "seed %zu", i + 1);
        tests[i] = (struct CMUnitTest){names[i], one_case, NULL, NULL, &seeds[i]};
    }
    tests[SEEDS] = (struct CMUnitTest)cmocka_unit_test(enough_was_seen);
    return cmocka_run_group_tests_name("reasons", tests, NULL, NULL) != 0;
}
