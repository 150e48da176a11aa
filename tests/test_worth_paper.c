/*
 * What binds a recipe, worked out on paper: one thing at a time limits the cost, on a scale so fine
 * that the saving is what a line says. All malts yield 0.8, so that a grist weighs what its extract
 * takes and a kilogram of one is worth a kilogram of another.
 */
#include "support/test.h"

#include "support/kitchen.h"

#include "wortfit/wortfit.h"

#define BATCH 20.0
#define YIELD (0.75 * 0.8) /* kg extract in the wort per kg */
#define GRAM  0.004        /* what steps of the scale and gaps may add, in money */

/* kg of grist for a gravity. */
static double grist_kg(double og)
{
    double extract;
    assert_int_equal(wf_extract_from_gravity(og, &extract), WF_OK);
    return extract * BATCH / YIELD;
}

static struct wf_malt *add_malt(struct kitchen *k, const char *id, double price)
{
    kitchen_add_malt(k, id, 0.8, true);
    k->malts[k->store.malt_count - 1].price_per_kg = price;
    return &k->malts[k->store.malt_count - 1];
}

static void set_up(struct kitchen *k)
{
    kitchen_set_up(k, BATCH, 0.75);
    k->target.og = (struct wf_range){1.050, 1.060, (double)NAN};
}

static struct wf_recipe *worth_of(const struct kitchen *k, enum wf_goal goal,
                                  const struct wf_store *shop)
{
    const struct wf_solve_options o = {.goals = {goal}, .goal_count = 1, .today = WF_NO_DATE};
    struct wf_recipe *r = NULL;
    static struct wf_error e;
    wf_error_clear(&e);
    enum wf_status status = wf_solve(&k->target, &k->store, &k->brewhouse, &o, &r, &e);
    if (status == WF_OK)
        status = wf_recipe_add_worth(r, &k->target, &k->store, &k->brewhouse, &o, shop, &e);
    if (status != WF_OK)
        fail_msg("%s", e.text);
    return r;
}

static const struct wf_lean *find(const struct wf_recipe *r, enum wf_lean_kind kind,
                                  const char *what)
{
    for (size_t i = 0; i < r->worth->lean_count; i++)
        if (r->worth->leans[i].kind == kind && strcmp(r->worth->leans[i].what, what) == 0)
            return &r->worth->leans[i];
    return NULL;
}

/* One that must be there. */
static const struct wf_lean *lean_on(const struct wf_recipe *r, enum wf_lean_kind kind,
                                     const char *what)
{
    static const struct wf_lean none;
    const struct wf_lean *lean = find(r, kind, what);
    if (lean != NULL)
        return lean;
    fail_msg("nothing is told of %s", what);
    return &none;
}

static void check_lean(const struct wf_recipe *r, enum wf_lean_kind kind, const char *what,
                       double from, double to, double saves)
{
    const struct wf_lean *lean = lean_on(r, kind, what);
    assert_close(lean->from, from, 1e-9);
    assert_true(isinf(to) ? isinf(lean->to) : fabs(lean->to - to) < 1e-9);
    assert_close(lean->saves, saves, GRAM);
    assert_true(lean->least <= saves + GRAM && lean->most >= saves - GRAM);
}

static void a_point_of_gravity(void **state)
{
    (void)state;
    struct kitchen k;
    set_up(&k);
    add_malt(&k, "pale", 1.7);
    struct wf_recipe *r = worth_of(&k, WF_GOAL_COST, NULL);
    check_lean(r, WF_LEAN_WISH, "original gravity", 1.050, 1.049,
               1.7 * (grist_kg(1.050) - grist_kg(1.049)));
    assert_int_equal(r->worth->lean_count, 1); /* its high end is not leaned on */
    assert_false(r->worth->leans[0].high);
    wf_recipe_free(r);
}

static void a_greatest_share(void **state)
{
    (void)state;
    struct kitchen k;
    set_up(&k);
    add_malt(&k, "cheap", 1)->most = 0.2;
    add_malt(&k, "dear", 2);
    struct wf_recipe *r = worth_of(&k, WF_GOAL_COST, NULL);
    check_lean(r, WF_LEAN_SHARE, "cheap", 0.2, 0.21, 0.01 * grist_kg(1.050));
    assert_null(find(r, WF_LEAN_SHARE, "dear"));
    wf_recipe_free(r);
}

static void a_rule_s_share(void **state)
{
    (void)state;
    struct kitchen k;
    set_up(&k);
    add_malt(&k, "cheap", 1);
    add_malt(&k, "dear", 2);
    kitchen_add_share(&k, "dear", 0.3, 0.05);
    struct wf_recipe *r = worth_of(&k, WF_GOAL_COST, NULL);
    check_lean(r, WF_LEAN_WISH, "share of dear", 0.25, 0.24, 0.01 * grist_kg(1.050));
    wf_recipe_free(r);
}

static void a_kilogram_in_store(void **state)
{
    (void)state;
    struct kitchen k;
    set_up(&k);
    add_malt(&k, "cheap", 1)->have_kg = 1.5;
    add_malt(&k, "dear", 3)->have_kg = 9;
    struct wf_recipe *r = worth_of(&k, WF_GOAL_COST, NULL);
    check_lean(r, WF_LEAN_STOCK, "cheap", 1.5, 2.5, 2);
    assert_null(find(r, WF_LEAN_STOCK, "dear"));
    assert_string_equal(lean_on(r, WF_LEAN_STOCK, "cheap")->id, "cheap");
    wf_recipe_free(r);
}

/* The slot takes one variety, so that the cheap hop is of use only once there is enough of it. */
static void a_hundred_grams_of_hops(void **state)
{
    (void)state;
    struct kitchen k;
    struct wf_kettle kettle = {.batch_l = BATCH,
                               .efficiency = 0.75,
                               .boil_minutes = 60,
                               .evaporation_l_h = 3,
                               .law = WF_TINSETH};
    const struct wf_addition a = {WF_HOP_BOIL, 0.1, 60, 0, 1};
    double gravity, per_gram;
    set_up(&k);
    add_malt(&k, "pale", 1);
    kitchen_add_hop(&k, "cheap", 0.1);
    k.hops[0].have_g = 10;
    kitchen_add_hop(&k, "dear", 0.1);
    k.hops[1].price_per_kg = 90;
    kitchen_add_slot(&k, 60);
    k.target.bitterness = (struct wf_range){30, 40, (double)NAN};
    assert_int_equal(wf_boil_gravity(1.050, &kettle, &gravity), WF_OK);
    assert_int_equal(wf_ibu_per_gram(&a, &kettle, gravity, &per_gram), WF_OK);
    double grams = ceil(30 / per_gram * 10) / 10;
    struct wf_recipe *r = worth_of(&k, WF_GOAL_COST, NULL);
    check_lean(r, WF_LEAN_STOCK, "cheap", 0.01, 0.11, 0.06 * grams);
    check_lean(r, WF_LEAN_WISH, "bitterness", 30, 29, 0.09 / per_gram);
    wf_recipe_free(r);
}

static void enzymes(void **state)
{
    (void)state;
    struct kitchen k;
    set_up(&k);
    add_malt(&k, "cheap", 1);
    add_malt(&k, "dear", 2)->grain.lintner = 100;
    k.target.diastatic = 35;
    struct wf_recipe *r = worth_of(&k, WF_GOAL_COST, NULL);
    check_lean(r, WF_LEAN_WISH, "diastatic power", 35, 30, 0.05 * grist_kg(1.050));
    wf_recipe_free(r);
}

static void what_must_be_in_it(void **state)
{
    (void)state;
    static const char *const use[] = {"dear", "cheap", NULL};
    struct kitchen k;
    set_up(&k);
    add_malt(&k, "cheap", 1);
    add_malt(&k, "dear", 2);
    k.brewhouse.least_malt_kg = 0.1;
    k.target.use = use;
    struct wf_recipe *r = worth_of(&k, WF_GOAL_COST, NULL);
    check_lean(r, WF_LEAN_WISH, "dear in it", 1, 0, 0.1);
    assert_null(find(r, WF_LEAN_WISH, "cheap in it"));
    wf_recipe_free(r);
    r = worth_of(&k, WF_GOAL_FEWEST, NULL);
    check_lean(r, WF_LEAN_WISH, "dear in it", 1, 0, 1);
    check_lean(r, WF_LEAN_WISH, "cheap in it", 1, 0, 1);
    assert_int_equal(r->worth->lean_count, 2);
    wf_recipe_free(r);
}

static void how_many_malts(void **state)
{
    (void)state;
    struct kitchen k;
    set_up(&k);
    add_malt(&k, "cheap", 1);
    add_malt(&k, "dear", 2);
    k.target.rules = k.rules;
    k.target.rule_count = 1;
    k.rules[0] = (struct wf_rule){
        .who = {.all = true}, .share = wf_range_any(), .least = 2, .most = -1, .words = "malts"};
    struct wf_recipe *r = worth_of(&k, WF_GOAL_FEWEST, NULL);
    check_lean(r, WF_LEAN_WISH, "number of malts", 2, 1, 1);
    wf_recipe_free(r);
}

/* Of five that a shop sells cheaper than the store, the best three are told; what the store has
 * under another name, what is to be avoided, and what is dearer are not. */
static void a_shop(void **state)
{
    (void)state;
    static const char *const avoid[] = {"avoided", NULL};
    static const double price[] = {1.5, 1.1, 1.3, 1.2, 1.4};
    static const char *const id[] = {"e", "a", "c", "b", "d"};
    struct kitchen k, shop;
    set_up(&k);
    set_up(&shop);
    add_malt(&k, "sack", 2)->of = "pale";
    k.target.avoid = avoid;
    for (size_t i = 0; i < COUNT_OF(price); i++)
        add_malt(&shop, id[i], price[i]);
    add_malt(&shop, "pale", 0.5);
    add_malt(&shop, "avoided", 0.6);
    add_malt(&shop, "dearer", 2.5);
    shop.store.note = "invented";
    struct wf_recipe *r = worth_of(&k, WF_GOAL_COST, &shop.store);
    double kg = grist_kg(1.050);
    check_lean(r, WF_LEAN_SHOP, "a", 0, INFINITY, 0.9 * kg);
    check_lean(r, WF_LEAN_SHOP, "b", 0, INFINITY, 0.8 * kg);
    check_lean(r, WF_LEAN_SHOP, "c", 0, INFINITY, 0.7 * kg);
    assert_int_equal(r->worth->lean_count, 4); /* and the gravity */
    assert_close(lean_on(r, WF_LEAN_SHOP, "a")->price, 1.1, 0);
    assert_string_equal(r->worth->leans[0].what, "a");
    assert_string_equal(r->worth->shop_note, "invented");
    wf_recipe_free(r);
}

/* The file that tells of leans and ranges is read again, and is none the poorer for the rest. */
static void the_recipe_s_file(void **state)
{
    (void)state;
    static struct wf_error e;
    struct kitchen k, shop;
    struct wf_recipe *again = NULL;
    char *json = NULL;
    set_up(&k);
    set_up(&shop);
    add_malt(&k, "cheap", 1)->have_kg = 1.5;
    add_malt(&k, "dear", 3)->most = 0.8;
    add_malt(&k, "middling", 2.9);
    add_malt(&shop, "a", 2.5);
    struct wf_recipe *r = worth_of(&k, WF_GOAL_COST, &shop.store);
    assert_int_equal(wf_recipe_add_ranges(r, &k.target, &k.brewhouse.spread, 0.9, &e), WF_OK);
    assert_int_equal(wf_report_recipe_json(r, &json, &e), WF_OK);
    assert_non_null(strstr(json, "\"ranges\": {\n    \"probability\": 0.9,"));
    assert_non_null(strstr(json, "{ \"of\": \"stock\", \"what\": \"cheap\", \"id\": \"cheap\", "
                                 "\"kind\": \"mass\", \"from\": 1.5, \"to\": 2.5, \"saves\": "));
    assert_non_null(strstr(json, "{ \"of\": \"wish\", \"what\": \"original gravity\", "
                                 "\"kind\": \"gravity\", \"end\": \"low\", \"from\": 1.05, "));
    assert_non_null(strstr(json, "{ \"of\": \"shop\", \"what\": \"a\", \"id\": \"a\", "
                                 "\"kind\": \"mass\", \"from\": 0, \"price\": 2.5, "));
    if (wf_recipe_parse("again", json, strlen(json), NULL, NULL, &again, &e) != WF_OK)
        fail_msg("%s", e.text);
    assert_close(again->predicted.og, r->predicted.og, 1e-12);
    assert_null(again->ranges);
    assert_null(again->worth);
    wf_text_release(json);
    wf_recipe_free(again);
    wf_recipe_free(r);
}

/* A yeast that is preferred and cheaper could come in by a looser final gravity: what that saves is
 * the yeasts' difference, and not told of the wish. */
static void yeasts_stay_those_of_the_recipe_s_place(void **state)
{
    (void)state;
    static const char *const wanted[] = {"dry", "sweet", NULL};
    struct wf_yeast yeasts[] = {
        {.id = "dry",
         .name = "dry",
         .family = "ale",
         .attenuation_low = 0.85,
         .attenuation_high = 0.85,
         .have = 1,
         .price = 1},
        {.id = "sweet",
         .name = "sweet",
         .family = "ale",
         .attenuation_low = 0.75,
         .attenuation_high = 0.75,
         .have = 1,
         .price = 9},
    };
    struct kitchen k;
    set_up(&k);
    add_malt(&k, "pale", 1);
    k.store.yeasts = yeasts;
    k.store.yeast_count = 2;
    k.target.yeasts = wanted;
    k.target.fg = (struct wf_range){1.0095, 1.020, (double)NAN}; /* dry: up to 1.0086 */
    struct wf_recipe *r = worth_of(&k, WF_GOAL_COST, NULL);
    assert_string_equal(r->yeast.id, "sweet");
    check_lean(r, WF_LEAN_WISH, "original gravity", 1.050, 1.049,
               grist_kg(1.050) - grist_kg(1.049));
    assert_int_equal(r->worth->lean_count, 1);
    wf_recipe_free(r);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_point_of_gravity),
        cmocka_unit_test(a_greatest_share),
        cmocka_unit_test(a_rule_s_share),
        cmocka_unit_test(a_kilogram_in_store),
        cmocka_unit_test(a_hundred_grams_of_hops),
        cmocka_unit_test(enzymes),
        cmocka_unit_test(what_must_be_in_it),
        cmocka_unit_test(how_many_malts),
        cmocka_unit_test(a_shop),
        cmocka_unit_test(the_recipe_s_file),
        cmocka_unit_test(yeasts_stay_those_of_the_recipe_s_place),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
