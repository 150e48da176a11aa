/*
 * Recipes that are sure: on a store so small that all its recipes can be listed, each with its
 * ranges, what wf_solve_sure finds is held against the list. Windows are drawn; the seed of a case
 * is its name.
 */
#include "support/test.h"

#include "support/dice.h"
#include "support/memory.h"

#include "solve/closeness.h"
#include "wortfit/sure.h"

/* An invented cellar, weighed in coarse steps. */
static const char store_text[] =
    "{\"store\": \"Cupboard\", \"currency\": \"EUR\","
    " \"malts\": [{\"id\": \"pale\", \"is\": \"pale-ale-malt-american\", \"have\": \"6.5 kg\","
    "              \"step\": \"500 g\", \"price\": \"1.70/kg\", \"most\": \"100 %\"},"
    "             {\"id\": \"crystal\", \"is\": \"crystal-60\", \"have\": \"1 kg\","
    "              \"step\": \"200 g\", \"price\": \"2.90/kg\", \"most\": \"30 %\"}],"
    " \"hops\": [{\"id\": \"bitter\", \"is\": \"magnum\", \"have\": \"54 g\", \"alpha\": \"12 %\","
    "            \"price\": \"0.05/g\"}],"
    " \"yeasts\": [{\"id\": \"yeast\", \"is\": \"american-ale-clean\", \"price\": \"3.00\"}]}";
static const char brewhouse_text[] =
    "{\"brewhouse\": \"Pot\", \"scale\": {\"hop\": \"6 g\"}, \"least\": {\"hop\": \"6 g\"},"
    " \"spread\": {\"efficiency\": \"2 %\", \"alpha\": \"6 %\", \"utilisation\": \"5 %\","
    "              \"colour\": \"5 %\", \"attenuation\": \"2 %\"}}";
static const char target_text[] =
    "{\"target\": \"probe\", \"og\": \"1.050\", \"colour\": \"10 SRM\","
    " \"ratio\": \"0.6\", \"fg\": \"1.008..1.016\","
    " \"hops\": [{\"at\": \"60 min\"}]}";

#define STEPS_PALE    13
#define STEPS_CRYSTAL 5
#define STEPS_HOP     9

static struct {
    struct wf_catalogue *catalogue;
    struct wf_store *store;
    struct wf_brewhouse *brewhouse;
    struct wf_target *target;
} in;

static int set_up(void **state)
{
    static struct wf_error e;
    (void)state;
    if (wf_catalogue_read(&in.catalogue, &e) != WF_OK ||
        wf_store_parse("store", store_text, strlen(store_text), in.catalogue, &in.store, &e) !=
            WF_OK ||
        wf_brewhouse_parse("brewhouse", brewhouse_text, strlen(brewhouse_text), WF_UNITS_METRIC,
                           &in.brewhouse, &e) != WF_OK ||
        wf_target_parse("probe", target_text, strlen(target_text), in.catalogue, &in.target, &e) !=
            WF_OK) {
        print_error("%s\n", e.text);
        return 1;
    }
    return 0;
}

static int tear_down(void **state)
{
    (void)state;
    wf_target_free(in.target);
    wf_brewhouse_free(in.brewhouse);
    wf_store_free(in.store);
    wf_catalogue_free(in.catalogue);
    return 0;
}

/* ---- All recipes ----------------------------------------------------------------------------- */

enum { LEVELS = 3 };
static const double levels[LEVELS] = {0.5, 0.8, 0.9};

struct entry {
    struct wf_beer beer, low[LEVELS], high[LEVELS];
    double cost;
    bool exists;
};
static struct entry all[STEPS_PALE + 1][STEPS_CRYSTAL + 1][STEPS_HOP + 1];

static void fill_malt(struct wf_recipe_malt *m, size_t lot, double kg)
{
    const struct wf_malt *from = &in.store->malts[lot];
    *m = (struct wf_recipe_malt){.id = from->id,
                                 .name = from->name,
                                 .grain = from->grain,
                                 .kg = kg,
                                 .usual_most = from->usual_most,
                                 .cost = kg * from->price_per_kg};
}

/* A recipe of the list: its figures from the forward path, its ranges as any recipe's. */
static void brew(int pale, int crystal, int hop)
{
    const struct wf_hop *h = &in.store->hops[0];
    const struct wf_yeast *y = &in.store->yeasts[0];
    struct wf_recipe_malt malts[2];
    struct wf_recipe_hop hops[1] = {
        {.id = h->id,
         .name = h->name,
         .addition = {.use = WF_HOP_BOIL, .alpha = h->alpha, .minutes = 60, .form = 1},
         .grams = 6.0 * hop,
         .cost = 0.006 * hop * h->price_per_kg}};
    const struct wf_brewhouse *b = in.brewhouse;
    struct wf_recipe r = {.arena = wf_arena_new(),
                          .malts = malts,
                          .malt_count = crystal > 0 ? 2 : 1,
                          .hops = hops,
                          .hop_count = hop > 0,
                          .kettle = {.batch_l = b->batch_l,
                                     .efficiency = b->efficiency,
                                     .boil_minutes = b->boil_minutes,
                                     .evaporation_l_h = b->evaporation_l_h,
                                     .law = b->law},
                          .yeast = {.id = y->id,
                                    .attenuation = (y->attenuation_low + y->attenuation_high) / 2,
                                    .cost = y->price}};
    struct entry *entry = &all[pale][crystal][hop];
    fill_malt(&malts[0], 0, 0.5 * pale);
    fill_malt(&malts[1], 1, 0.2 * crystal);
    entry->exists = wf_recipe_predict(&r, NULL) == WF_OK &&
                    0.2 * crystal <= 0.3 * (0.5 * pale + 0.2 * crystal) + 1e-9;
    entry->beer = r.predicted;
    entry->cost = r.cost;
    /* Windows lie well within these, and so must ranges that fit. */
    entry->exists = entry->exists && r.predicted.og > 1.031 && r.predicted.og < 1.07 &&
                    r.predicted.srm < 22 && r.predicted.ratio > 0.14 && r.predicted.ratio < 1.3;
    for (int k = 0; entry->exists && k < LEVELS; k++) {
        assert_int_equal(wf_recipe_add_ranges(&r, NULL, &b->spread, levels[k], NULL), WF_OK);
        entry->low[k] = r.ranges->low;
        entry->high[k] = r.ranges->high;
    }
    wf_arena_free(r.arena);
}

static void list_all(void **state)
{
    (void)state;
    for (int pale = 1; pale <= STEPS_PALE; pale++)
        for (int crystal = 0; crystal <= STEPS_CRYSTAL; crystal++)
            for (int hop = 0; hop <= STEPS_HOP; hop++)
                brew(pale, crystal, hop);
}

static bool in_window(double low, double high, struct wf_range r)
{
    return low >= r.low - 2e-6 && high <= r.high + 2e-6;
}

static bool meets(const struct wf_target *t, const struct wf_beer *low, const struct wf_beer *high)
{
    return in_window(low->og, high->og, t->og) && in_window(low->srm, high->srm, t->colour) &&
           in_window(low->ratio, high->ratio, t->ratio) && in_window(low->fg, high->fg, t->fg);
}

/* Least cost of those that are so sure; `level` -1: of those whose middles meet the wishes. */
static double best_of(const struct wf_target *t, int level, size_t *count)
{
    const struct entry *entry = &all[0][0][0];
    double best = INFINITY;
    *count = 0;
    for (size_t i = 0; i < sizeof all / sizeof *entry; i++, entry++) {
        bool good = entry->exists && meets(t, &entry->beer, &entry->beer) &&
                    (level < 0 || meets(t, &entry->low[level], &entry->high[level]));
        if (!good)
            continue;
        best = fmin(best, entry->cost);
        *count += 1;
    }
    return best;
}

static const struct entry *entry_of(const struct wf_recipe *r)
{
    double kg[2] = {0}, grams = 0;
    for (size_t i = 0; i < r->malt_count; i++)
        kg[strcmp(r->malts[i].id, "crystal") == 0] += r->malts[i].kg;
    for (size_t i = 0; i < r->hop_count; i++)
        grams += r->hops[i].grams;
    return &all[lround(kg[0] / 0.5)][lround(kg[1] / 0.2)][lround(grams / 6)];
}

/* ---- Cases ----------------------------------------------------------------------------------- */

#define CASES PART_OF(120)

static struct {
    size_t found, none, missed, plain_is_sure;
} seen;

static struct wf_range window(struct dice *d, double low, double high, double least, double most)
{
    double at = low + (high - low) * dice_decimal(d, 0, 1000, 1000);
    double half = least + (most - least) * dice_decimal(d, 0, 1000, 1000);
    return (struct wf_range){at - half, at + half, at};
}

static struct wf_target draw_target(uint64_t seed)
{
    struct dice d = {.state = seed};
    struct wf_target t = *in.target;
    t.og = window(&d, 1.040, 1.058, 0.0015, 0.008);
    t.colour = window(&d, 6, 14, 1, 6);
    t.ratio = window(&d, 0.4, 0.9, 0.04, 0.25);
    t.fg = window(&d, 1.009, 1.015, 0.002, 0.006);
    return t;
}

static size_t range_wishes(const struct wf_recipe *r, size_t *met)
{
    size_t count = 0;
    *met = 0;
    for (size_t i = 0; i < r->wish_count; i++) {
        const struct wf_wish_result *w = &r->wishes[i];
        if (strstr(w->wish, "% range") == NULL) {
            assert_true(w->met);
            continue;
        }
        count++;
        *met += w->met;
        assert_true(w->met == (w->missed_by <= 0));
    }
    return count;
}

static void check_found(const struct wf_target *t, const struct wf_recipe *r, int level,
                        double plain)
{
    const struct entry *entry = entry_of(r);
    size_t count, met;
    double best = best_of(t, level, &count);
    assert_true(meets(t, &entry->low[level], &entry->high[level]));
    assert_close(r->cost, entry->cost, 1e-9);
    assert_close(r->ranges->probability, levels[level], 0);
    assert_true(range_wishes(r, &met) == 4 && met == 4);
    assert_true(r->status == WF_RECIPE_OPTIMAL || r->status == WF_RECIPE_GOOD);
    assert_close(r->proofs[0].value, entry->cost, 1e-6);
    assert_true(r->proofs[0].bound <= best + 1e-6); /* the bound is none too high */
    assert_true(r->proofs[0].bound >= plain * (1 - 1.1e-4));
    seen.plain_is_sure += entry->cost <= plain + 1e-9;
}

static void check_none(const struct wf_target *t, const struct wf_recipe *r, int level,
                       const struct wf_error *e)
{
    size_t met, count;
    char sure[64];
    assert_int_equal(r->status, WF_RECIPE_NONE);
    assert_true(meets(t, &r->predicted, &r->predicted));
    assert_true(range_wishes(r, &met) == 4 && met < 4);
    assert_true(r->ranges->each < levels[level] + 0.002);
    snprintf(sure, sizeof sure, "that is %.0f %% sure", 100 * levels[level]);
    assert_non_null(strstr(e->text, sure));
    seen.none++;
    best_of(t, level, &count);
    seen.missed += count > 0;
}

struct row {
    uint64_t seed;
    char name[32];
};

static void one_case(void **state)
{
    const struct row *row = *state;
    static struct wf_error e;
    const struct wf_solve_options o = {.today = WF_NO_DATE};
    struct wf_target t = draw_target(row->seed);
    int level = (int)(row->seed % LEVELS);
    struct wf_recipe *r = NULL;
    size_t count;
    double plain = best_of(&t, -1, &count);
    wf_error_clear(&e);
    enum wf_status status = wf_solve_sure(&t, in.store, in.brewhouse, &o, levels[level], &r, &e);
    if (count == 0) { /* as wf_solve says it */
        assert_int_equal(status, WF_NO_RECIPE);
        assert_true(r == NULL || r->ranges == NULL);
    } else if (status == WF_OK) {
        check_found(&t, r, level, plain);
        seen.found++;
    } else {
        assert_int_equal(status, WF_NO_RECIPE);
        check_none(&t, r, level, &e);
    }
    wf_recipe_free(r);
}

/* Narrowing may pass over a recipe; it must be rare. And both answers must be frequent. */
static void cases_were_telling(void **state)
{
    (void)state;
    print_message("sure: %zu, of them the plain one: %zu; none found: %zu, though there was: %zu\n",
                  seen.found, seen.plain_is_sure, seen.none, seen.missed);
    assert_true(seen.found >= CASES / 6 && seen.none >= CASES / 6);
    assert_true(seen.plain_is_sure < seen.found);
    assert_true(seen.missed * 20 <= seen.found);
}

/* ---- Other goals, limits --------------------------------------------------------------------- */

static struct wf_target wide(void)
{
    struct wf_target t = *in.target;
    t.og = (struct wf_range){1.044, 1.060, 1.052};
    t.colour = (struct wf_range){6, 16, 11};
    t.ratio = (struct wf_range){0.35, 0.95, 0.6};
    t.fg = (struct wf_range){1.006, 1.018, (double)NAN};
    return t;
}

/* Its value is that of the wishes as they stand, not of the narrowed ones. */
static void closest_is_measured_by_the_wishes_as_they_stand(void **state)
{
    (void)state;
    const struct wf_solve_options o = {
        .goals = {WF_GOAL_CLOSEST}, .goal_count = 1, .today = WF_NO_DATE};
    struct wf_target t = wide();
    struct wf_recipe *r = NULL, *plain = NULL;
    t.colour.aim = 15.9; /* at its end, so that the closest of all is not sure */
    assert_int_equal(wf_solve(&t, in.store, in.brewhouse, &o, &plain, NULL), WF_OK);
    assert_close(wf_closeness(&t, &plain->predicted), plain->proofs[0].value, 1e-6);
    assert_int_equal(wf_solve_sure(&t, in.store, in.brewhouse, &o, 0.8, &r, NULL), WF_OK);
    assert_close(wf_closeness(&t, &r->predicted), r->proofs[0].value, 1e-9);
    assert_true(r->proofs[0].value > plain->proofs[0].value + 0.03);
    assert_close(r->proofs[0].bound, plain->proofs[0].bound, 1e-9);
    assert_int_equal(r->proof_count, 1);
    assert_int_equal(r->status, WF_RECIPE_GOOD);
    wf_recipe_free(r);
    wf_recipe_free(plain);
}

/* A plain recipe that is sure as it is keeps its own proof, of all goals. */
static void what_is_sure_already_stays(void **state)
{
    (void)state;
    const struct wf_solve_options o = {
        .goals = {WF_GOAL_COST, WF_GOAL_FEWEST}, .goal_count = 2, .today = WF_NO_DATE};
    struct wf_target t = wide();
    struct wf_recipe *r = NULL, *plain = NULL;
    t.og.low = 1.002;
    t.colour.low = t.ratio.low = t.ratio.high = 0;
    t.ratio.high = 5;
    t.fg = wf_range_any();
    assert_int_equal(wf_solve(&t, in.store, in.brewhouse, &o, &plain, NULL), WF_OK);
    assert_int_equal(wf_solve_sure(&t, in.store, in.brewhouse, &o, 0.5, &r, NULL), WF_OK);
    assert_close(r->cost, plain->cost, 1e-9);
    assert_int_equal(r->proof_count, 2);
    assert_int_equal(r->status, plain->status);
    assert_close(r->proofs[1].value, plain->proofs[1].value, 0);
    wf_recipe_free(r);
    wf_recipe_free(plain);
}

static void the_surest_is_told(void **state)
{
    (void)state;
    static struct wf_error e;
    const struct wf_solve_options o = {.today = WF_NO_DATE};
    struct wf_target t = wide();
    struct wf_recipe *r = NULL;
    t.og = (struct wf_range){1.0505, 1.0545, 1.0525};
    assert_int_equal(wf_solve_sure(&t, in.store, in.brewhouse, &o, 0.95, &r, &e), WF_NO_RECIPE);
    assert_non_null(r);
    assert_true(r->ranges->each > 0.5 && r->ranges->each < 0.95);
    char sure[64];
    snprintf(sure, sizeof sure, "the surest is %.0f %% sure: the wish for original gravity is",
             floor(100 * r->ranges->each));
    assert_non_null(strstr(e.text, sure));
    wf_recipe_free(r);
}

static void cancelled(void **state)
{
    (void)state;
    static struct wf_error e;
    volatile bool stop = true;
    const struct wf_solve_options o = {.today = WF_NO_DATE, .cancel = &stop};
    struct wf_target t = wide();
    struct wf_recipe *r = NULL;
    assert_int_equal(wf_solve_sure(&t, in.store, in.brewhouse, &o, 0.9, &r, &e), WF_CANCELLED);
    assert_null(r);
}

static void time_bounds_all_of_it(void **state)
{
    (void)state;
    const struct wf_solve_options o = {.today = WF_NO_DATE, .seconds = 1};
    struct wf_target t = wide();
    struct wf_recipe *r = NULL;
    assert_int_equal(wf_solve_sure(&t, in.store, in.brewhouse, &o, 0.8, &r, NULL), WF_OK);
    assert_true(r->seconds < 3);
    wf_recipe_free(r);
}

static enum wf_status sure_solve(void *data, struct wf_error *e)
{
    const struct wf_solve_options o = {.today = WF_NO_DATE};
    struct wf_target t = wide();
    struct wf_recipe *r = NULL;
    t.og.high = *(double *)data;
    enum wf_status status = wf_solve_sure(&t, in.store, in.brewhouse, &o, 0.8, &r, e);
    if (status == WF_OK || status == WF_NO_RECIPE)
        assert_non_null(r);
    else
        assert_null(r);
    wf_recipe_free(r);
    return status == WF_NO_RECIPE ? WF_OK : status;
}

static void out_of_memory(void **state)
{
    (void)state;
    double high = 1.060;
    check_memory_is_told(sure_solve, &high, 200, 7);
    high = 1.0450; /* no recipe is so sure */
    check_memory_is_told(sure_solve, &high, 200, 7);
}

int main(void)
{
    static const struct CMUnitTest last[] = {
        cmocka_unit_test(cases_were_telling),
        cmocka_unit_test(closest_is_measured_by_the_wishes_as_they_stand),
        cmocka_unit_test(what_is_sure_already_stays),
        cmocka_unit_test(the_surest_is_told),
        cmocka_unit_test(cancelled),
        cmocka_unit_test(time_bounds_all_of_it),
        cmocka_unit_test(out_of_memory),
    };
    static struct row rows[CASES];
    static struct CMUnitTest tests[1 + CASES + COUNT_OF(last)];
    tests[0] = (struct CMUnitTest){.name = "all recipes are listed", .test_func = list_all};
    for (size_t i = 0; i < CASES; i++) {
        rows[i].seed = i + 1;
        snprintf(rows[i].name, sizeof rows[i].name, "case %zu", i + 1);
        tests[1 + i] = (struct CMUnitTest){
            .name = rows[i].name, .test_func = one_case, .initial_state = &rows[i]};
    }
    memcpy(tests + 1 + CASES, last, sizeof last);
    return _cmocka_run_group_tests("sure", tests, COUNT_OF(tests), set_up, tear_down) != 0;
}
