/*
 * Plans against enumeration: two batches of tiny generated beers, of different size, from one store
 * of small stocks, in which a malt may be bought by weight or in packs. All recipes of each are
 * enumerated through the forward path, and all pairs of them. Then what a plan does at its limits.
 */
#include "support/test.h"

#include "support/brute.h"
#include "support/memory.h"
#include "wortfit/wortfit.h"

#define LOTS_MOST  16
#define SEEDS      PART_OF(60)
#define PAIRS_MOST 300000.0

/* What a recipe takes of each lot; malts, hops, yeasts. */
struct use {
    double of[LOTS_MOST];
    bool sure;
};

struct beer {
    struct gen *g;
    struct use *uses;
    size_t count, room;
};

static void note(void *data, const struct gen_recipe *r, const struct verdict *v, bool sure,
                 size_t rank)
{
    struct beer *b = data;
    const struct wf_store *s = &b->g->store;
    struct use u = {.sure = sure};
    (void)v, (void)rank;
    for (size_t i = 0; i < s->malt_count; i++)
        u.of[i] = r->kg[i];
    for (size_t i = 0; i < s->hop_count * b->g->target.slot_count; i++)
        u.of[s->malt_count + i % s->hop_count] += r->grams[i];
    if (r->yeast != GEN_NO_YEAST)
        u.of[s->malt_count + s->hop_count + r->yeast] = 1;
    for (size_t i = 0; i < b->count; i++)
        if (memcmp(b->uses[i].of, u.of, sizeof u.of) == 0 && b->uses[i].sure >= sure)
            return;
    if (b->count == b->room) {
        b->room = b->room > 0 ? 2 * b->room : 256;
        b->uses = realloc(b->uses, b->room * sizeof *b->uses);
        assert_non_null(b->uses);
    }
    b->uses[b->count++] = u;
}

/* ---- The store's side, reckoned here anew ---------------------------------------------------- */

struct lots {
    double have[LOTS_MOST], price[LOTS_MOST], pack[LOTS_MOST];
    size_t count;
};

static double or_none(double price)
{
    return isnan(price) ? 0 : price;
}

static void read_lots(const struct wf_store *s, struct lots *l)
{
    l->count = 0;
    for (size_t i = 0; i < s->malt_count; i++, l->count++) {
        l->have[l->count] = s->malts[i].have_kg;
        l->price[l->count] = or_none(s->malts[i].price_per_kg);
        l->pack[l->count] = s->malts[i].pack_kg;
    }
    for (size_t i = 0; i < s->hop_count; i++, l->count++) {
        l->have[l->count] = s->hops[i].have_g;
        l->price[l->count] = or_none(s->hops[i].price_per_kg) / 1000;
        l->pack[l->count] = (double)NAN;
    }
    for (size_t i = 0; i < s->yeast_count; i++, l->count++) {
        l->have[l->count] = s->yeasts[i].have;
        l->price[l->count] = or_none(s->yeasts[i].price);
        l->pack[l->count] = (double)NAN;
    }
    assert_true(l->count <= LOTS_MOST);
}

/* Money and worth of what two recipes take together; false: the stock does not go round. */
static bool reckon(const struct lots *l, const struct use *a, const struct use *b, double *money,
                   double *worth)
{
    *money = *worth = 0;
    for (size_t i = 0; i < l->count; i++) {
        double use = a->of[i] + b->of[i];
        if (use > l->have[i] + 1e-9)
            return false;
        *worth += use * l->price[i];
        if (isinf(l->have[i]))
            *money += l->price[i] *
                      (isnan(l->pack[i]) ? use : l->pack[i] * ceil(use / l->pack[i] - 1e-9));
    }
    return true;
}

struct best {
    double money, worth; /* +inf: no pair */
};

static struct best best_pair(const struct lots *l, const struct beer beers[2], bool sure)
{
    struct best best = {HUGE_VAL, HUGE_VAL};
    for (size_t i = 0; i < beers[0].count; i++)
        for (size_t j = 0; j < beers[1].count; j++) {
            double money, worth;
            if (sure && !(beers[0].uses[i].sure && beers[1].uses[j].sure))
                continue;
            if (!reckon(l, &beers[0].uses[i], &beers[1].uses[j], &money, &worth))
                continue;
            if (money < best.money - 1e-7 || (money < best.money + 1e-7 && worth < best.worth))
                best = (struct best){money, worth};
        }
    return best;
}

/* ---- One case -------------------------------------------------------------------------------- */

static struct {
    size_t plans, proved, none, bought, one;
} seen;

static struct gen *make(uint64_t seed)
{
    const struct gen_options o = {.seed = seed,
                                  .malts = 3 + seed % 2,
                                  .hops = 2,
                                  .yeasts = seed % 3,
                                  .slots = 1,
                                  .scale = GEN_TINY,
                                  .planted = true,
                                  .tight = seed % 2 == 0,
                                  .fermented = seed % 3 > 0};
    struct gen *g = gen_make(&o);
    double times = seed % 3 == 0 ? 1 : 2; /* enough for two, mostly */
    g->target.yeasts = NULL;              /* any of them */
    for (size_t i = 0; i < g->store.malt_count; i++)
        g->store.malts[i].pack_kg = (double)NAN;
    for (size_t i = 0; i < g->store.hop_count; i++)
        g->store.hops[i].pack_kg = (double)NAN;
    for (size_t i = 0; i < g->store.yeast_count; i++)
        g->store.yeasts[i].have = times;
    for (size_t i = 0; i < g->store.malt_count; i++)
        g->store.malts[i].have_kg =
            times *
            (isinf(g->store.malts[i].have_kg) ? g->drawn.kg[i] + 0.5 : g->store.malts[i].have_kg);
    for (size_t i = 0; i < g->store.hop_count; i++)
        g->store.hops[i].have_g *= times;
    if (seed % 4 > 0) {
        g->store.malts[seed % 3].have_kg = (double)INFINITY;
        g->store.malts[seed % 3].price_per_kg = 2.5;
    }
    if (seed % 4 > 1)
        g->store.malts[seed % 3].pack_kg = 0.75;
    return g;
}

static void check_found(uint64_t seed, const struct wf_plan *p, const struct best best[2])
{
    const struct wf_proof *money = &p->proofs[0], *worth = &p->proofs[1];
    const struct best *sure = &best[BRUTE_SURE], *perhaps = &best[BRUTE_PERHAPS];
    seen.plans++;
    seen.proved += p->status == WF_RECIPE_OPTIMAL;
    seen.bought += p->money > 0;
    if (!(p->money >= perhaps->money - 1e-6) || !(money->bound <= sure->money + 1e-6) ||
        !(p->money <= sure->money + 2e-3 + 2 * money->gap * p->money))
        fail_msg("seed %d: money %.9g, bound %.9g, enumerated %.9g and %.9g", (int)seed, p->money,
                 money->bound, sure->money, perhaps->money);
    if (fabs(p->money - sure->money) > 1e-6 || fabs(sure->money - perhaps->money) > 1e-9)
        return; /* another money has another worth */
    if (!(p->worth >= perhaps->worth - 1e-6) || !(worth->bound <= sure->worth + 1e-6) ||
        !(p->worth <= sure->worth + 2e-3 + 2 * worth->gap * p->worth))
        fail_msg("seed %d: worth %.9g, bound %.9g, enumerated %.9g and %.9g", (int)seed, p->worth,
                 worth->bound, sure->worth, perhaps->worth);
}

/* As many as can, of stock alone. */
static void check_most(uint64_t seed, const struct beer beers[2], const struct wf_plan_beer *given)
{
    const struct wf_plan_options o = {.search = {.today = GEN_TODAY}, .as_many = true};
    struct lots l;
    struct use nothing = {0};
    struct wf_plan *p;
    double money, worth;
    size_t most[2] = {0, 0};
    read_lots(&beers[0].g->store, &l);
    for (size_t i = 0; i < l.count; i++)
        l.have[i] = isinf(l.have[i]) ? 0 : l.have[i];
    for (int sure = 0; sure < 2; sure++) {
        most[sure] = isfinite(best_pair(&l, beers, sure == BRUTE_SURE).worth) ? 2 : 0;
        for (int b = 0; b < 2 && most[sure] == 0; b++)
            for (size_t i = 0; i < beers[b].count; i++)
                if ((beers[b].uses[i].sure || sure != BRUTE_SURE) &&
                    reckon(&l, &beers[b].uses[i], &nothing, &money, &worth))
                    most[sure] = 1;
    }
    enum wf_status status = wf_plan_make(given, 2, &beers[0].g->store, NULL, &o, &p, NULL);
    size_t brewed = status == WF_OK ? p->brewed : 0;
    if ((status != WF_OK && status != WF_NO_RECIPE) || brewed < most[BRUTE_SURE] ||
        brewed > most[BRUTE_PERHAPS])
        fail_msg("seed %d: status %d, %zu can be brewed, enumerated %zu and %zu", (int)seed,
                 (int)status, brewed, most[BRUTE_SURE], most[BRUTE_PERHAPS]);
    seen.one += brewed == 1;
    wf_plan_free(p);
}

static void one_case(uint64_t seed)
{
    const struct wf_plan_options o = {.search = {.today = GEN_TODAY}};
    struct gen *g = make(seed), other = *g;
    struct beer beers[2] = {{.g = g}, {.g = &other}};
    struct lots l;
    other.brewhouse.batch_l *= seed % 2 == 0 ? 1 : 0.8;
    brute_each(g, note, &beers[0]);
    brute_each(&other, note, &beers[1]);
    if ((double)beers[0].count * (double)beers[1].count < PAIRS_MOST) {
        const struct wf_plan_beer given[2] = {{&g->target, &g->brewhouse},
                                              {&other.target, &other.brewhouse}};
        struct wf_plan *p;
        struct wf_error e = {0};
        read_lots(&g->store, &l);
        const struct best best[2] = {[BRUTE_SURE] = best_pair(&l, beers, true),
                                     [BRUTE_PERHAPS] = best_pair(&l, beers, false)};
        enum wf_status status = wf_plan_make(given, 2, &g->store, NULL, &o, &p, &e);
        if (status == WF_OK && isfinite(best[BRUTE_PERHAPS].worth))
            check_found(seed, p, best);
        else if (status != WF_NO_RECIPE || isfinite(best[BRUTE_SURE].worth))
            fail_msg("seed %d: status %d, enumerated %.9g: %s", (int)seed, (int)status,
                     best[BRUTE_SURE].worth, e.text);
        else
            seen.none++;
        wf_plan_free(p);
        check_most(seed, beers, given);
    }
    free(beers[0].uses);
    free(beers[1].uses);
    gen_free(g);
}

static void plans_are_as_good_as_enumerated(void **state)
{
    (void)state;
    for (uint64_t seed = 1; seed <= SEEDS; seed++)
        one_case(seed);
    print_message("%zu plans, %zu proved, %zu with money; none in %zu; one of two in %zu\n",
                  seen.plans, seen.proved, seen.bought, seen.none, seen.one);
    assert_true(seen.plans >= SEEDS / 4 && seen.none >= SEEDS / 12);
    assert_true(seen.bought >= SEEDS / 12 && seen.one >= SEEDS / 12);
    assert_true(10 * seen.proved >= 9 * seen.plans);
}

/* ---- Limits ---------------------------------------------------------------------------------- */

static void too_many_beers(void **state)
{
    const struct wf_plan_options o = {.search = {.today = GEN_TODAY}};
    struct gen *g = make(3);
    struct wf_plan_beer beers[WF_PLAN_BEERS_MOST + 1];
    struct wf_plan *p;
    struct wf_error e = {0};
    (void)state;
    for (size_t i = 0; i < COUNT_OF(beers); i++)
        beers[i] = (struct wf_plan_beer){&g->target, &g->brewhouse};
    assert_int_equal(wf_plan_make(beers, COUNT_OF(beers), &g->store, NULL, &o, &p, &e), WF_USAGE);
    assert_null(p);
    assert_non_null(strstr(e.text, "from 1 to 20"));
    assert_int_equal(wf_plan_make(beers, 0, &g->store, NULL, &o, &p, NULL), WF_USAGE);
    wf_plan_free(NULL);
    gen_free(g);
}

static void two_moneys(void **state)
{
    const struct wf_plan_options o = {.search = {.today = GEN_TODAY}};
    struct gen *g = make(3);
    struct wf_store shop = g->store;
    const struct wf_plan_beer beer = {&g->target, &g->brewhouse};
    struct wf_plan *p;
    struct wf_error e = {0};
    (void)state;
    g->store.currency = "EUR";
    shop.currency = "USD";
    assert_int_equal(wf_plan_make(&beer, 1, &g->store, &shop, &o, &p, &e), WF_BAD_INPUT);
    assert_null(p);
    assert_non_null(strstr(e.text, "one money"));
    gen_free(g);
}

/* The same lots in a shop are more of those in hand; what is short is bought there. */
static void a_shop_fills_up(void **state)
{
    const struct wf_plan_options o = {.search = {.today = GEN_TODAY}};
    struct gen *g = make(4);
    struct wf_store shop = g->store;
    struct wf_malt malts[8];
    struct wf_hop hops[8];
    struct wf_yeast yeasts[8];
    const struct wf_plan_beer beers[3] = {
        {&g->target, &g->brewhouse}, {&g->target, &g->brewhouse}, {&g->target, &g->brewhouse}};
    struct wf_plan *p;
    (void)state;
    memcpy(malts, g->store.malts, g->store.malt_count * sizeof *malts);
    memcpy(hops, g->store.hops, g->store.hop_count * sizeof *hops);
    memcpy(yeasts, g->store.yeasts, g->store.yeast_count * sizeof *yeasts);
    for (size_t i = 0; i < 8; i++)
        malts[i].have_kg = hops[i].have_g = yeasts[i].have = (double)INFINITY;
    shop.malts = malts;
    shop.hops = hops;
    shop.yeasts = yeasts;
    assert_int_equal(wf_plan_make(beers, 3, &g->store, &shop, &o, &p, NULL), WF_OK);
    assert_int_equal(p->brewed, 3);
    for (size_t i = 0; i < p->lot_count; i++) {
        assert_false(p->lots[i].new_lot);
        assert_true(p->lots[i].buy <= 0 || p->lots[i].used > p->lots[i].hand - 1e-9);
        assert_close(p->lots[i].by_beer[0] + p->lots[i].by_beer[1] + p->lots[i].by_beer[2],
                     p->lots[i].used, 1e-9);
    }
    wf_plan_free(p);
    gen_free(g);
}

static void cancelled(void **state)
{
    static const volatile bool stop = true;
    const struct wf_plan_options o = {.search = {.today = GEN_TODAY, .cancel = &stop}};
    struct gen *g = make(3);
    const struct wf_plan_beer beers[2] = {{&g->target, &g->brewhouse}, {&g->target, &g->brewhouse}};
    struct wf_plan *p;
    (void)state;
    assert_int_equal(wf_plan_make(beers, 2, &g->store, NULL, &o, &p, NULL), WF_CANCELLED);
    assert_null(p);
    gen_free(g);
}

/* The same input gives the same plan. */
static void twice_the_same(void **state)
{
    const struct wf_plan_options o = {.search = {.today = GEN_TODAY}};
    struct gen *g = make(6);
    const struct wf_plan_beer beers[2] = {{&g->target, &g->brewhouse}, {&g->target, &g->brewhouse}};
    char *text[2] = {0};
    (void)state;
    for (int i = 0; i < 2; i++) {
        struct wf_plan *p;
        enum wf_status status = wf_plan_make(beers, 2, &g->store, NULL, &o, &p, NULL);
        assert_true(status == WF_OK || status == WF_NO_RECIPE);
        for (size_t b = 0; b < p->beer_count; b++)
            if (p->beers[b].recipe != NULL)
                p->beers[b].recipe->seconds = 0;
        assert_int_equal(wf_report_plan_json(p, &text[i], NULL), WF_OK);
        wf_plan_free(p);
    }
    assert_string_equal(text[0], text[1]);
    wf_text_release(text[0]);
    wf_text_release(text[1]);
    gen_free(g);
}

/* ---- Memory ---------------------------------------------------------------------------------- */

struct run {
    struct gen *g;
    bool as_many;
};

static enum wf_status plan_and_report(void *data, struct wf_error *e)
{
    const struct run *r = data;
    const struct wf_plan_options o = {.search = {.today = GEN_TODAY}, .as_many = r->as_many};
    const struct wf_report_style style = {0};
    const struct wf_plan_beer beers[2] = {{&r->g->target, &r->g->brewhouse},
                                          {&r->g->target, &r->g->brewhouse}};
    struct wf_plan *p;
    char *text[3] = {0};
    enum wf_status status = wf_plan_make(beers, 2, &r->g->store, NULL, &o, &p, e);
    if (status == WF_NO_RECIPE)
        status = WF_OK; /* that too is an answer */
    if (status == WF_OK)
        status = wf_report_plan_text(p, &style, &text[0], e);
    if (status == WF_OK)
        status = wf_report_plan_json(p, &text[1], e);
    if (status == WF_OK && p->brewed > 0)
        status = wf_plan_model_text(beers, 2, &r->g->store, NULL, p, GEN_TODAY, &text[2], e);
    for (int i = 0; i < 3; i++)
        wf_text_release(text[i]);
    wf_plan_free(p);
    return status;
}

static void out_of_memory(void **state)
{
    struct run runs[] = {{make(5), false}, {make(5), true}, {make(2), false}};
    (void)state;
    for (size_t i = 0; i < COUNT_OF(runs); i++) {
        check_out_of_memory(plan_and_report, &runs[i], 500, 997);
        gen_free(runs[i].g);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(plans_are_as_good_as_enumerated),
        cmocka_unit_test(too_many_beers),
        cmocka_unit_test(two_moneys),
        cmocka_unit_test(a_shop_fills_up),
        cmocka_unit_test(cancelled),
        cmocka_unit_test(twice_the_same),
        cmocka_unit_test(out_of_memory),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
