/*
 * The survey against enumeration: tiny problems of which half the lots are in the store and half in
 * a shop. From the store alone every weight is tried, then from both with the store's lots for
 * nothing: what the survey calls brewable must be that, and what it spends the least.
 */
#include "support/test.h"

#include "support/brute.h"
#include "support/generate_parts.h"
#include "support/memory.h"
#include "support/solved.h"

#include "solve/survey_single.h"

#define CASES 60
#define MALTS 4

static struct {
    size_t now, buy, none, packs, yeasts, hops, singles, not_alone;
} seen;

struct row {
    uint64_t seed;
    char name[32];
};

/* ---- Two stores of one ----------------------------------------------------------------------- */

struct halves {
    struct gen *whole; /* what is in hand costs nothing */
    struct wf_store store, shop;
    size_t in_hand; /* malts */
};

static struct halves make(uint64_t s)
{
    const struct gen_options o = {.seed = s,
                                  .malts = MALTS,
                                  .hops = 2,
                                  .yeasts = 2,
                                  .slots = 1 + s % 2,
                                  .scale = GEN_TINY,
                                  .planted = s % 5 != 0,
                                  .tight = s % 4 == 0,
                                  .aims = s % 3 == 0,
                                  .fermented = true};
    /* Every third store has all hops and yeasts, and one malt: of those two or more may be missing.
     */
    bool hops_in_hand = s % 3 == 1;
    struct halves h = {.whole = gen_make(&o), .in_hand = hops_in_hand ? 1 : 2};
    struct wf_store *all = &h.whole->store;
    h.whole->target.yeasts = NULL;
    for (size_t i = 0; i < all->malt_count; i++) {
        all->malts[i].pack_kg = i >= h.in_hand && (s + i) % 3 == 0 ? 1.5 : (double)NAN;
        all->malts[i].price_per_kg = 1.1 + 0.3 * (double)i;
    }
    for (size_t i = 0; i < all->hop_count; i++) {
        all->hops[i].pack_kg = (double)NAN;
        all->hops[i].price_per_kg = 40;
    }
    for (size_t i = 0; i < all->yeast_count; i++)
        all->yeasts[i].price = 3;
    h.store = h.shop = *all;
    h.store.name = "hand";
    h.shop.name = "shop";
    h.store.malt_count = h.in_hand;
    h.store.hop_count = h.store.yeast_count = hops_in_hand ? 2 : 1;
    h.shop.malts += h.store.malt_count;
    h.shop.malt_count -= h.store.malt_count;
    h.shop.hops += h.store.hop_count;
    h.shop.hop_count -= h.store.hop_count;
    h.shop.yeasts += h.store.yeast_count;
    h.shop.yeast_count -= h.store.yeast_count;
    return h;
}

/* The store's lots at these prices by weight, and the whole by trying every weight. */
static struct brute brute_at(struct halves *h, double malt, double hop, double yeast)
{
    struct brute b;
    struct wf_store *s = &h->whole->store;
    for (size_t i = 0; i < h->store.malt_count; i++)
        s->malts[i].price_per_kg = malt;
    for (size_t i = 0; i < h->store.hop_count; i++)
        s->hops[i].price_per_kg = hop;
    for (size_t i = 0; i < h->store.yeast_count; i++)
        s->yeasts[i].price = yeast;
    brute_search(h->whole, &b);
    return b;
}

static struct brute brute_in_hand(struct halves *h)
{
    struct brute b;
    struct gen alone = *h->whole;
    alone.store = h->store;
    brute_search(&alone, &b);
    h->whole->arena = alone.arena;
    return b;
}

/* ---- Checks ---------------------------------------------------------------------------------- */

static enum wf_status survey(const struct halves *h, const struct wf_store *shop, size_t threads,
                             struct wf_survey **out, struct wf_error *e)
{
    const struct wf_survey_options o = {.solve = {.today = GEN_TODAY}, .threads = threads};
    const struct wf_target *const t[] = {&h->whole->target, &h->whole->target};
    return wf_survey_make(t, 2, &h->store, shop, &h->whole->brewhouse, &o, out, e);
}

static void check_basket(const struct wf_surveyed *b)
{
    double sum = 0;
    assert_true(b->basket_count > 0);
    for (size_t i = 0; i < b->basket_count; i++) {
        const struct wf_purchase *p = &b->basket[i];
        sum += p->cost;
        assert_true(p->used > 0 && p->amount >= p->used - 1e-9);
        if (isfinite(p->pack)) {
            assert_close(p->amount / p->pack, round(p->amount / p->pack), 1e-9);
            assert_true(p->amount - p->used < p->pack);
        } else {
            assert_close(p->amount, p->used, 0);
        }
        seen.packs += isfinite(p->pack) ? 1 : 0;
        seen.yeasts += p->kind == WF_KIND_YEAST;
        seen.hops += p->kind == WF_KIND_HOP;
    }
    assert_close(sum, b->recipe->cost, 1e-9);
}

static void check_best(double value, double bound, const struct brute *b)
{
    const double *best = b->best[WF_GOAL_COST];
    double room = solved_room(WF_GOAL_COST, value);
    assert_true(value >= best[BRUTE_PERHAPS] - 1e-6 && value <= best[BRUTE_SURE] + room);
    assert_true(bound <= best[BRUTE_SURE] + 1e-6);
}

static void check_verdict(struct halves *h, const struct wf_surveyed *b)
{
    struct brute alone = brute_in_hand(h), both = brute_at(h, 0, 0, 0);
    bool may = isfinite(alone.best[WF_GOAL_COST][BRUTE_PERHAPS]);
    bool must = isfinite(alone.best[WF_GOAL_COST][BRUTE_SURE]);
    bool may_both = isfinite(both.best[WF_GOAL_COST][BRUTE_PERHAPS]);
    bool must_both = isfinite(both.best[WF_GOAL_COST][BRUTE_SURE]);
    assert_true(b->verdict == WF_VERDICT_NOW ? may : !must);
    if (b->verdict == WF_VERDICT_BUY) {
        assert_true(may_both);
        check_basket(b);
        check_best(b->recipe->proofs[0].value, b->recipe->proofs[0].bound, &both);
    } else if (b->verdict == WF_VERDICT_NOT) {
        assert_true(!must_both);
        assert_true(b->recipe == NULL || b->recipe->status == WF_RECIPE_NONE);
        assert_int_equal(b->basket_count, 0);
    }
    seen.now += b->verdict == WF_VERDICT_NOW;
    seen.buy += b->verdict == WF_VERDICT_BUY;
    seen.none += b->verdict == WF_VERDICT_NOT;
}

/* What can be brewed is what a solve finds. */
static void check_as_solved(const struct halves *h, const struct wf_surveyed *b)
{
    const struct wf_solve_options o = {.today = GEN_TODAY};
    struct wf_recipe *r = NULL;
    enum wf_status status =
        wf_solve(&h->whole->target, &h->store, &h->whole->brewhouse, &o, &r, NULL);
    assert_int_equal(status == WF_OK, b->verdict == WF_VERDICT_NOW);
    if (status == WF_OK) {
        assert_close(r->cost, b->recipe->cost, 0);
        assert_close(r->proofs[0].bound, b->recipe->proofs[0].bound, 0);
    }
    wf_recipe_free(r);
}

/* ---- The best buy ---------------------------------------------------------------------------- */

/* Whether the store makes the beer with this one lot of the shop more. */
static bool makes_with(const struct halves *h, enum wf_kind kind, size_t lot)
{
    const struct wf_solve_options o = {.today = GEN_TODAY};
    struct wf_malt malts[MALTS];
    struct wf_store s = h->store;
    struct wf_recipe *r = NULL;
    if (kind == WF_KIND_MALT) {
        memcpy(malts, s.malts, s.malt_count * sizeof *malts);
        malts[s.malt_count] = h->shop.malts[lot];
        s.malts = malts;
        s.malt_count++;
    } else if (kind == WF_KIND_HOP) {
        s.hop_count++; /* the shop's stands behind the store's */
    } else {
        s.yeast_count++;
    }
    enum wf_status status = wf_solve(&h->whole->target, &s, &h->whole->brewhouse, &o, &r, NULL);
    wf_recipe_free(r);
    return status == WF_OK;
}

static const char *lot_id(const struct halves *h, enum wf_kind kind, size_t lot)
{
    return kind == WF_KIND_MALT  ? h->shop.malts[lot].id
           : kind == WF_KIND_HOP ? h->shop.hops[lot].id
                                 : h->shop.yeasts[lot].id;
}

/* Every lot of the shop, alone. */
static void check_singles(struct halves *h, const struct wf_survey *v)
{
    const struct wf_solve_options o = {.today = GEN_TODAY};
    struct wf_singles s;
    bool found[WF_KIND_COUNT][MALTS] = {{false}}, open;
    bool *const makes[] = {found[0], found[1], found[2]};
    const char *first = NULL;
    assert_true(wf_singles_join(&h->store, &h->shop, h->whole->arena, &s));
    assert_int_equal(
        wf_singles_find(&s, &h->whole->target, &h->whole->brewhouse, &o, makes, &open, NULL),
        WF_OK);
    assert_false(open);
    for (int kind = 0; kind < WF_KIND_COUNT; kind++)
        for (size_t lot = 0; lot < wf_singles_count(&s, (enum wf_kind)kind); lot++) {
            bool alone = makes_with(h, (enum wf_kind)kind, lot);
            assert_int_equal(found[kind][lot], alone);
            if (alone && first == NULL)
                first = lot_id(h, (enum wf_kind)kind, lot);
            seen.singles += alone;
            seen.not_alone += !alone;
        }
    /* The beer is there twice: what makes it, makes two; of equals it is the first. */
    assert_false(v->best_buy.at_least);
    assert_int_equal(v->best_buy.count, first != NULL ? 2 : 0);
    assert_int_equal(v->best_buy.id == NULL, first == NULL);
    if (first != NULL)
        assert_string_equal(v->best_buy.id, first);
}

static void one_case(void **state)
{
    const struct row *row = *state;
    struct halves h = make(row->seed);
    struct wf_survey *v = NULL;
    struct wf_error e = {0};
    assert_int_equal(survey(&h, &h.shop, 2, &v, &e), WF_OK);
    assert_int_equal(v->count, 2);
    assert_int_equal(v->beers[0].verdict, v->beers[1].verdict); /* the same beer twice */
    check_as_solved(&h, &v->beers[0]);
    check_verdict(&h, &v->beers[0]);
    if (v->beers[0].verdict == WF_VERDICT_BUY)
        check_singles(&h, v);
    else
        assert_null(v->best_buy.id);
    wf_survey_free(v);
    gen_free(h.whole);
}

static void cases_were_telling(void **state)
{
    (void)state;
    print_message(
        "%zu can be brewed, %zu if bought (%zu in packs, %zu yeasts, %zu hops), %zu not\n",
        seen.now, seen.buy, seen.packs, seen.yeasts, seen.hops, seen.none);
    assert_true(seen.now >= 3 && seen.buy >= CASES / 4 && seen.none >= 3);
    assert_true(seen.singles >= 20 && seen.not_alone >= 40);
    assert_true(seen.packs >= 5 && seen.yeasts >= 3 && seen.hops >= 3);
}

/* ---- Limits ---------------------------------------------------------------------------------- */

/* The first case of that verdict. */
static struct halves make_with(enum wf_verdict verdict)
{
    for (uint64_t s = 1;; s++) {
        struct halves h = make(s);
        struct wf_survey *v = NULL;
        assert_true(s <= CASES);
        assert_int_equal(survey(&h, &h.shop, 1, &v, NULL), WF_OK);
        bool found = v->beers[0].verdict == verdict;
        wf_survey_free(v);
        if (found)
            return h;
        gen_free(h.whole);
    }
}

static void without_a_shop_nothing_is_bought(void **state)
{
    (void)state;
    struct halves h = make_with(WF_VERDICT_BUY);
    struct wf_survey *v = NULL;
    assert_int_equal(survey(&h, NULL, 0, &v, NULL), WF_OK);
    assert_int_equal(v->beers[1].verdict, WF_VERDICT_NOT);
    assert_null(v->shop);
    assert_non_null(v->beers[1].recipe);
    wf_survey_free(v);
    gen_free(h.whole);
}

static void what_has_no_price_is_not_for_sale(void **state)
{
    (void)state;
    struct halves h = make_with(WF_VERDICT_BUY);
    struct wf_survey *v = NULL;
    for (size_t i = 0; i < h.shop.malt_count; i++)
        h.shop.malts[i].price_per_kg = (double)NAN;
    for (size_t i = 0; i < h.shop.hop_count; i++)
        h.shop.hops[i].price_per_kg = (double)NAN;
    for (size_t i = 0; i < h.shop.yeast_count; i++)
        h.shop.yeasts[i].price = (double)NAN;
    assert_int_equal(survey(&h, &h.shop, 1, &v, NULL), WF_OK);
    assert_int_equal(v->beers[0].verdict, WF_VERDICT_NOT);
    assert_int_equal(v->not_for_sale, h.shop.malt_count + h.shop.hop_count + h.shop.yeast_count);
    wf_survey_free(v);
    gen_free(h.whole);
}

static void no_beers(void **state)
{
    (void)state;
    struct halves h = make(1);
    const struct wf_survey_options o = {.solve = {.today = GEN_TODAY}};
    struct wf_survey *v = NULL;
    assert_int_equal(wf_survey_make(NULL, 0, &h.store, &h.shop, &h.whole->brewhouse, &o, &v, NULL),
                     WF_OK);
    assert_int_equal(v->count, 0);
    wf_survey_sort(v, WF_SURVEY_BY_COST);
    wf_survey_free(v);
    wf_survey_free(NULL);
    gen_free(h.whole);
}

static void cancelled(void **state)
{
    (void)state;
    struct halves h = make(1);
    volatile bool stop = true;
    const struct wf_survey_options o = {.solve = {.today = GEN_TODAY, .cancel = &stop},
                                        .threads = 2};
    const struct wf_target *const t[] = {&h.whole->target, &h.whole->target};
    struct wf_survey *v = NULL;
    assert_int_equal(wf_survey_make(t, 2, &h.store, &h.shop, &h.whole->brewhouse, &o, &v, NULL),
                     WF_CANCELLED);
    assert_null(v);
    gen_free(h.whole);
}

/* A hop too old for the laws: the message is that of a solve. */
static void a_lot_that_is_wrong_is_told(void **state)
{
    (void)state;
    struct halves h = make(1);
    struct wf_survey *v = NULL;
    struct wf_error e = {0};
    h.store.hops[0].packed = 1;
    assert_int_equal(survey(&h, &h.shop, 2, &v, &e), WF_OUT_OF_RANGE);
    assert_non_null(strstr(e.text, "packed more than ten years"));
    assert_int_equal(e.count, 1);
    assert_null(v);
    gen_free(h.whole);
}

static void sorted(void **state)
{
    (void)state;
    const struct wf_target t[] = {
        {.id = "a", .group = "y"}, {.id = "b", .group = "x"}, {.id = "c"}};
    struct wf_recipe r[] = {{.cost = 3}, {.cost = 2}, {.cost = 1}};
    struct wf_surveyed beers[] = {
        {&t[0], WF_VERDICT_NOW, &r[0], NULL, 0, 0.5},
        {&t[1], WF_VERDICT_NOW, &r[1], NULL, 0, NAN},
        {&t[2], WF_VERDICT_BUY, &r[2], NULL, 1, 0.1},
    };
    static const struct {
        enum wf_survey_order by;
        const char *order;
    } rows[] = {{WF_SURVEY_BY_COST, "bac"},
                {WF_SURVEY_BY_AIMS, "abc"},
                {WF_SURVEY_BY_NAME, "abc"},
                {WF_SURVEY_BY_GROUP, "bac"},
                {WF_SURVEY_BY_FEWEST, "bac"}};
    for (size_t i = 0; i < COUNT_OF(rows); i++) {
        struct wf_survey v = {.beers = beers, .count = 3, .all = 3};
        wf_survey_sort(&v, rows[i].by);
        for (size_t k = 0; k < 3; k++)
            assert_int_equal(v.beers[k].target->id[0], rows[i].order[k]);
    }
}

/* ---- Memory ---------------------------------------------------------------------------------- */

static enum wf_status whole_survey(void *data, struct wf_error *e)
{
    struct halves *h = data;
    struct wf_survey *v = NULL;
    enum wf_status status = survey(h, &h->shop, 1, &v, e);
    wf_survey_free(v);
    return status;
}

static void out_of_memory(void **state)
{
    (void)state;
    static const enum wf_verdict verdicts[] = {WF_VERDICT_NOW, WF_VERDICT_BUY, WF_VERDICT_NOT};
    for (size_t i = 0; i < COUNT_OF(verdicts); i++) {
        struct halves h = make_with(verdicts[i]);
        check_memory_is_told(whole_survey, &h, 100, 7);
        gen_free(h.whole);
    }
}

int main(void)
{
    static struct row rows[CASES];
    static struct CMUnitTest tests[CASES + 9];
    size_t count = 0;
    for (size_t i = 0; i < CASES; i++) {
        rows[i].seed = i + 1;
        snprintf(rows[i].name, sizeof rows[i].name, "case %zu", i + 1);
        tests[count++] = (struct CMUnitTest){rows[i].name, one_case, NULL, NULL, &rows[i]};
    }
    const struct CMUnitTest others[] = {
        cmocka_unit_test(cases_were_telling),
        cmocka_unit_test(without_a_shop_nothing_is_bought),
        cmocka_unit_test(what_has_no_price_is_not_for_sale),
        cmocka_unit_test(no_beers),
        cmocka_unit_test(cancelled),
        cmocka_unit_test(a_lot_that_is_wrong_is_told),
        cmocka_unit_test(sorted),
        cmocka_unit_test(out_of_memory),
    };
    memcpy(tests + count, others, sizeof others);
    count += COUNT_OF(others);
    return _cmocka_run_group_tests("survey", tests, count, NULL, NULL);
}
