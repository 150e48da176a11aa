/* Recipes: typed by hand, whole files, figures from stores, costs, and the forward path. */
#include "support/test.h"

#include "wortfit/report.h"
#include "wortfit/solve.h" /* wf_text_release */

#include <stdbool.h>

static struct wf_catalogue *catalogue;
static struct wf_store *cellar;
static struct wf_error error;

static const char cellar_text[] =
    "{\"store\": \"Cellar\", \"currency\": \"EUR\", \"note\": \"invented\", \"malts\": ["
    "{\"id\": \"house-crystal\", \"is\": \"crystal-60\", \"colour\": \"58 Lov\","
    " \"price\": \"3.00/kg\", \"pack\": \"500 g\"},"
    "{\"id\": \"pilsner-malt\", \"price\": \"2.00/kg\"}, {\"id\": \"flaked-oats\"}],"
    "\"hops\": [{\"id\": \"cascade\", \"alpha\": \"7 %\", \"price\": \"0.05/g\", \"form\": "
    "\"whole\"}],"
    "\"yeasts\": [{\"id\": \"slurry\", \"is\": \"irish-ale\", \"attenuation\": \"70..76 %\","
    " \"price\": \"1.00\"}]}";

static int set_up(void **state)
{
    (void)state;
    if (wf_catalogue_read(&catalogue, &error) != WF_OK)
        return -1;
    return wf_store_parse("cellar", cellar_text, strlen(cellar_text), catalogue, &cellar, &error) ==
                   WF_OK
               ? 0
               : -1;
}

static int tear_down(void **state)
{
    (void)state;
    wf_store_free(cellar);
    wf_catalogue_free(catalogue);
    cellar = NULL;
    catalogue = NULL;
    return 0;
}

static struct wf_recipe *read_recipe(const char *text, const struct wf_store *s)
{
    struct wf_recipe *r;
    wf_error_clear(&error);
    if (wf_recipe_parse("r.json", text, strlen(text), s, catalogue, &r, &error) != WF_OK)
        fail_msg("%s", error.text);
    return r;
}

/* ---- Typed by hand --------------------------------------------------------------------------- */

static void ids_and_weights_are_enough(void **state)
{
    struct wf_recipe *r = read_recipe(
        "{\"recipe\": \"By hand\", \"malts\": ["
        "{\"id\": \"pilsner-malt\", \"weight\": \"4.5 kg\"}, {\"id\": \"cane-sugar\", \"kg\": "
        "0.5}],"
        "\"hops\": [{\"id\": \"cascade\", \"weight\": \"1 oz\", \"at\": \"dry 4 days\"},"
        "{\"id\": \"saaz\", \"g\": 20, \"at\": \"10 min\"},"
        "{\"id\": \"magnum\", \"g\": 15, \"at\": \"60 min\"},"
        "{\"id\": \"saaz\", \"g\": 10, \"at\": \"stand 20 min 80 C\"},"
        "{\"id\": \"perle\", \"g\": 5, \"at\": \"first wort\"}],"
        "\"yeast\": {\"id\": \"american-ale-clean\"}}",
        NULL);
    const struct wf_malt *pilsner = wf_catalogue_malt(catalogue, "pilsner-malt");
    double stand;
    (void)state;
    assert_string_equal(r->name, "By hand");
    assert_int_equal(r->status, WF_RECIPE_UNPROVED);
    assert_close(r->kettle.batch_l, 20, 0);
    assert_close(r->kettle.efficiency, 0.75, 0);
    assert_string_equal(r->malts[0].name, pilsner->name);
    assert_string_equal(r->malts[0].of, "pilsner-malt");
    assert_close(r->malts[0].grain.yield, pilsner->grain.yield, 0);
    assert_close(r->malts[0].share, 0.9, 1e-12);
    assert_int_equal(r->malts[1].class, WF_CLASS_SUGAR);
    assert_true(r->malts[1].grain.sugar && !r->malts[1].grain.mashed);
    /* in the order of the brewing day */
    assert_string_equal(r->hops[0].id, "perle");
    assert_string_equal(r->hops[1].id, "magnum");
    assert_close(r->hops[2].addition.minutes, 10, 0);
    assert_int_equal(r->hops[3].addition.use, WF_HOP_STAND);
    assert_close(r->hops[4].grams, 28.349523125, 1e-9);
    assert_close(r->hops[4].days, 4, 0);
    assert_close(r->hops[4].ibu, 0, 0);
    assert_close(r->stand_length, 20, 0);
    assert_close(r->stand_celsius, 80, 0);
    assert_int_equal(wf_stand_boil_minutes(20, 80, &stand), WF_OK);
    assert_close(r->kettle.stand_minutes, stand, 1e-12);
    assert_close(r->yeast.attenuation, 0.765, 1e-12);
    assert_string_equal(r->yeast.family, "ale");
    assert_int_equal(r->ingredients, 7);
    assert_int_equal(r->unpriced, 7);
    assert_close(r->cost, 0, 0);
    assert_string_equal(r->currency, "");
    wf_recipe_free(r);
}

/* The figures of the file's own lines, given to the laws by hand, make the same beer. */
static void the_forward_path_is_that_of_the_laws(void **state)
{
    struct wf_recipe *r = read_recipe(
        "{\"recipe\": \"x\", \"batch_l\": 25, \"kettle\": {\"efficiency\": 0.7, \"boil_min\": 75,"
        " \"evaporation_l_h\": 4, \"utilisation\": \"rager\"},"
        "\"malts\": [{\"id\": \"a\", \"kg\": 5, \"yield\": 0.77, \"lovibond\": 3, \"lintner\": 60},"
        "{\"id\": \"b\", \"kg\": 0.5, \"yield\": 0.7, \"lovibond\": 60, \"fermentability\": 0.6}],"
        "\"hops\": [{\"id\": \"h\", \"g\": 40, \"alpha\": 0.08, \"use\": \"boil\", \"minutes\": 60,"
        " \"form\": \"whole\"}], \"yeast\": {\"id\": \"y\", \"attenuation\": 0.75}}",
        NULL);
    const struct wf_kettle kettle = {.batch_l = 25,
                                     .efficiency = 0.7,
                                     .boil_minutes = 75,
                                     .evaporation_l_h = 4,
                                     .law = WF_RAGER};
    const struct wf_grain grains[] = {{0.77, 3, 60, 1, false, true},
                                      {0.7, 60, 0, 0.6, false, true}};
    const struct wf_addition hop = {WF_HOP_BOIL, 0.08, 60, 0, 0.9};
    const double kg[] = {5, 0.5}, grams = 40;
    struct wf_beer beer;
    double ibu;
    (void)state;
    assert_int_equal(wf_beer_predict(&kettle, grains, kg, 2, &hop, &grams, 1, 0.75, &beer, &ibu),
                     WF_OK);
    assert_close(r->predicted.og, beer.og, 0);
    assert_close(r->predicted.fg, beer.fg, 0);
    assert_close(r->predicted.srm, beer.srm, 0);
    assert_close(r->predicted.ibu, beer.ibu, 0);
    assert_close(r->predicted.abv, beer.abv, 0);
    assert_close(r->hops[0].ibu, ibu, 0);
    wf_recipe_free(r);
}

static void without_yeast_nothing_ferments(void **state)
{
    struct wf_recipe *r = read_recipe(
        "{\"recipe\": \"x\", \"malts\": [{\"id\": \"pilsner-malt\", \"kg\": 4}]}", NULL);
    (void)state;
    assert_null(r->yeast.id);
    assert_true(isnan(r->yeast.attenuation) && isnan(r->predicted.fg) && isnan(r->predicted.abv));
    assert_true(isnan(r->stand_length) && isnan(r->stand_celsius));
    assert_close(r->kettle.stand_minutes, 0, 0);
    assert_close(r->predicted.ibu, 0, 0);
    assert_int_equal(r->ingredients, 1);
    wf_recipe_free(r);
}

/* ---- With a store ---------------------------------------------------------------------------- */

static void figures_come_from_the_store_first(void **state)
{
    struct wf_recipe *r = read_recipe(
        "{\"recipe\": \"x\", \"malts\": [{\"id\": \"pilsner-malt\", \"kg\": 4},"
        "{\"id\": \"house-crystal\", \"kg\": 0.3}, {\"id\": \"flaked-oats\", \"kg\": 0.2}],"
        "\"hops\": [{\"id\": \"cascade\", \"g\": 20, \"at\": \"60 min\"},"
        "{\"id\": \"cascade\", \"g\": 10, \"at\": \"5 min\", \"alpha\": \"6 %\"}],"
        "\"yeast\": {\"id\": \"slurry\"}}",
        cellar);
    (void)state;
    assert_close(r->malts[1].grain.lovibond, 58, 1e-9);
    assert_string_equal(r->malts[1].of, "crystal-60");
    assert_close(r->hops[0].addition.alpha, 0.07, 1e-12);
    assert_close(r->hops[0].addition.form, 0.9, 0);
    assert_true(r->hops[0].whole);
    assert_close(r->hops[1].addition.alpha, 0.06, 1e-12);
    assert_close(r->yeast.attenuation, 0.73, 1e-12);
    assert_string_equal(r->yeast.of, "irish-ale");
    /* 8.00 of pilsner malt, one whole pack of crystal, 30 g of hops, a yeast; oats have no price */
    assert_close(r->malts[0].cost, 8, 1e-9);
    assert_close(r->malts[1].cost, 1.5, 1e-9);
    assert_true(isnan(r->malts[2].cost));
    assert_close(r->hops[0].cost, 1, 1e-9);
    assert_close(r->cost, 8 + 1.5 + 1.5 + 1, 1e-9);
    assert_int_equal(r->ingredients, 5);
    assert_int_equal(r->unpriced, 1);
    assert_string_equal(r->currency, "EUR");
    assert_string_equal(r->price_note, "invented");
    wf_recipe_free(r);
}

static void packs_are_shared_by_the_lines_of_a_lot(void **state)
{
    struct wf_recipe *r = read_recipe(
        "{\"recipe\": \"x\", \"malts\": [{\"id\": \"pilsner-malt\", \"kg\": 4},"
        "{\"id\": \"house-crystal\", \"kg\": 0.4}, {\"id\": \"house-crystal\", \"kg\": 0.2}]}",
        cellar);
    (void)state;
    assert_close(r->malts[1].cost, 2, 1e-9); /* two packs of 1.50 for 400 g and 200 g */
    assert_close(r->malts[2].cost, 1, 1e-9);
    assert_int_equal(r->ingredients, 2);
    wf_recipe_free(r);
}

static void a_cost_in_the_file_stands(void **state)
{
    struct wf_recipe *r = read_recipe("{\"recipe\": \"x\", \"currency\": \"USD\", \"malts\": ["
                                      "{\"id\": \"pilsner-malt\", \"kg\": 4, \"cost\": 5.5}]}",
                                      cellar);
    (void)state;
    assert_close(r->cost, 5.5, 1e-12);
    assert_string_equal(r->currency, "USD");
    wf_recipe_free(r);
}

/* ---- Character ------------------------------------------------------------------------------- */

static void character_is_reckoned(void **state)
{
    struct wf_recipe *r = read_recipe(
        "{\"recipe\": \"x\", \"batch_l\": 10, \"malts\": ["
        "{\"id\": \"a\", \"kg\": 1.82, \"yield\": 0.8, \"lovibond\": 3, \"character\": "
        "{\"bready\": 2}},"
        "{\"id\": \"b\", \"kg\": 0.18, \"yield\": 0.7, \"lovibond\": 60, \"usual_most\": 0.15,"
        " \"character\": {\"caramel\": 5, \"bready\": 1}}],"
        "\"hops\": [{\"id\": \"h\", \"g\": 20, \"alpha\": 0.06, \"at\": \"20 min\", \"character\": "
        "{\"citrus\": 4}},"
        "{\"id\": \"h\", \"g\": 50, \"alpha\": 0.06, \"at\": \"21 min\", \"character\": "
        "{\"citrus\": 4}},"
        "{\"id\": \"h\", \"g\": 50, \"alpha\": 0.06, \"at\": \"first wort\", \"character\": "
        "{\"citrus\": 4}},"
        "{\"id\": \"i\", \"g\": 40, \"alpha\": 0.06, \"at\": \"dry 3 days\", \"character\": "
        "{\"citrus\": 1}}]}",
        NULL);
    (void)state;
    assert_close(r->character[WF_WORD_CARAMEL], 0.09 / 0.15 * 5, 1e-12);
    assert_close(r->character[WF_WORD_BREADY], 0.91 * 2 + 0.09 / 0.15, 1e-12);
    assert_close(r->character[WF_WORD_CITRUS], 2.0 / 4 * 4 + 4.0 / 4 * 1, 1e-12);
    assert_close(r->character[WF_WORD_ROAST], 0, 0);
    wf_recipe_free(r);
}

/* ---- Whole files ----------------------------------------------------------------------------- */

static const char whole[] =
    "{\"recipe\": \"Whole\", \"status\": \"good\", \"batch_l\": 20.0,"
    "\"kettle\": {\"batch_l\": 20.0, \"efficiency\": 0.75, \"boil_min\": 60, \"evaporation_l_h\": "
    "3,"
    " \"utilisation\": \"tinseth\"}, \"stand\": {\"minutes\": 30, \"temperature_c\": 80},"
    "\"malts\": [{\"id\": \"mine\", \"name\": \"My malt\", \"class\": \"base\", \"kg\": 4.35,"
    " \"share\": 0.87, \"yield\": 0.774, \"lovibond\": 2.5, \"lintner\": 70, \"fermentability\": 1,"
    " \"sugar\": false, \"mashed\": true, \"usual_most\": 1, \"character\": {\"bready\": 3}, "
    "\"cost\": 7}],"
    "\"hops\": [{\"id\": \"my-hop\", \"is\": \"cascade\", \"name\": \"My hop\", \"g\": 24, "
    "\"alpha\": 0.061,"
    " \"use\": \"boil\", \"minutes\": 60, \"ibu\": 21.3, \"form\": \"pellet\", \"cost\": 2}],"
    "\"yeast\": {\"id\": \"my-yeast\", \"name\": \"My yeast\", \"family\": \"ale\", "
    "\"attenuation\": 0.75,"
    " \"cost\": 3},"
    "\"predicted\": {\"og\": 1.5, \"fg\": 1.0, \"plato\": 1, \"abv\": 0.055, \"srm\": 13.2, "
    "\"ebc\": 26.0,"
    " \"ibu\": 33.1, \"ratio\": 0.601, \"boil_gravity\": 1.04, \"lintner\": 60, \"attenuation\": "
    "0.7},"
    "\"character\": {\"caramel\": 1.5, \"citrus\": 2}, \"cost\": 99, \"currency\": \"EUR\","
    "\"price_note\": \"invented\", \"unpriced\": 0, \"ingredients\": 99, \"seconds\": 0.5,"
    "\"wishes\": [{\"wish\": \"original gravity\", \"kind\": \"gravity\", \"low\": 1.054, "
    "\"high\": 1.056,"
    " \"aim\": 1.055, \"got\": 1.0551, \"met\": true, \"missed_by\": 0},"
    "{\"wish\": \"toast\", \"kind\": \"number\", \"low\": 1, \"got\": 0.5, \"met\": false, "
    "\"missed_by\": 0.5}],"
    "\"proof\": {\"goal\": \"cost\", \"value\": 11.42, \"bound\": 11.39, \"gap\": 0.0026},"
    "\"proofs\": [{\"goal\": \"cost\", \"value\": 11.42, \"bound\": 11.39, \"gap\": 0.0026},"
    "{\"goal\": \"fewest\", \"value\": 3}]}";

static void a_recipe_stands_alone(void **state)
{
    struct wf_recipe *r = read_recipe(whole, NULL);
    (void)state;
    assert_int_equal(r->status, WF_RECIPE_GOOD);
    assert_string_equal(r->malts[0].name, "My malt");
    assert_null(r->malts[0].of);
    assert_int_equal(r->malts[0].class, WF_CLASS_BASE);
    assert_string_equal(r->hops[0].of, "cascade");
    assert_close(r->hops[0].character[WF_WORD_CITRUS - WF_MALT_WORD_COUNT], 4, 0);
    assert_close(r->stand_length, 30, 0);
    assert_true(r->kettle.stand_minutes > 0);
    assert_string_equal(r->yeast.name, "My yeast");
    assert_string_equal(r->price_note, "invented");
    assert_close(r->seconds, 0.5, 0);
    assert_int_equal(r->wish_count, 2);
    assert_string_equal(r->wishes[0].wish, "original gravity");
    assert_int_equal(r->wishes[0].dimension, WF_DIM_GRAVITY);
    assert_close(r->wishes[0].wanted.aim, 1.055, 0);
    assert_true(r->wishes[0].met && !r->wishes[1].met);
    assert_int_equal(r->wishes[1].dimension, WF_DIM_NUMBER);
    assert_true(isinf(r->wishes[1].wanted.high) && isnan(r->wishes[1].wanted.aim));
    assert_close(r->wishes[1].missed_by, 0.5, 0);
    assert_int_equal(r->proof_count, 2);
    assert_string_equal(r->proofs[1].goal, "fewest");
    assert_close(r->proofs[0].gap, 0.0026, 0);
    assert_true(isnan(r->proofs[1].bound));
    wf_recipe_free(r);
}

static void predictions_in_the_file_are_not_believed(void **state)
{
    struct wf_recipe *r = read_recipe(whole, NULL);
    (void)state;
    assert_true(r->predicted.og > 1.03 && r->predicted.og < 1.06);
    assert_close(r->malts[0].share, 1, 0);
    assert_close(r->cost, 12, 1e-12);
    assert_int_equal(r->ingredients, 3);
    assert_close(r->character[WF_WORD_CARAMEL], 0, 0);
    assert_close(r->character[WF_WORD_BREADY], 3, 0);
    wf_recipe_free(r);
}

static void one_proof_needs_no_list(void **state)
{
    struct wf_recipe *r =
        read_recipe("{\"recipe\": \"x\", \"status\": \"optimal\", \"malts\": [{\"id\": "
                    "\"pilsner-malt\", \"kg\": 4}],"
                    "\"proof\": {\"goal\": \"cost\", \"value\": 1, \"bound\": 1, \"gap\": 0}}",
                    NULL);
    (void)state;
    assert_int_equal(r->status, WF_RECIPE_OPTIMAL);
    assert_int_equal(r->proof_count, 1);
    assert_close(r->proofs[0].value, 1, 0);
    wf_recipe_free(r);
}

static void where_none_was_found_the_closest_is_read(void **state)
{
    struct wf_recipe *r = read_recipe(
        "{\"recipe\": \"Outer\", \"status\": \"none\", \"reasons\": [\"not enough malt\"],"
        "\"closest\": {\"recipe\": \"Inner\", \"status\": \"good\","
        " \"malts\": [{\"id\": \"pilsner-malt\", \"kg\": 4}]}}",
        NULL);
    (void)state;
    assert_string_equal(r->name, "Inner");
    assert_int_equal(r->status, WF_RECIPE_NONE);
    assert_int_equal(r->malt_count, 1);
    wf_recipe_free(r);
}

static void what_is_written_is_read_back(void **state)
{
    static const char *const text[] = {
        whole, "{\"recipe\": \"x\", \"malts\": [{\"id\": \"pilsner-malt\", \"kg\": 4.1},"
               "{\"id\": \"honey\", \"kg\": 0.3}], \"hops\": ["
               "{\"id\": \"saaz\", \"g\": 33.3, \"at\": \"first wort\"},"
               "{\"id\": \"fuggle\", \"g\": 20, \"at\": \"stand 25 min 85 C\"},"
               "{\"id\": \"citra\", \"g\": 60, \"at\": \"dry 3 days\"}]}"};
    (void)state;
    for (size_t i = 0; i < COUNT_OF(text); i++) {
        char *first, *second;
        struct wf_recipe *r = read_recipe(text[i], cellar);
        assert_int_equal(wf_report_recipe_json(r, &first, &error), WF_OK);
        struct wf_recipe *again = read_recipe(first, NULL);
        assert_int_equal(wf_report_recipe_json(again, &second, &error), WF_OK);
        assert_string_equal(first, second);
        assert_close(again->kettle.stand_minutes, r->kettle.stand_minutes, 0);
        assert_memory_equal(r->character, again->character, sizeof r->character);
        wf_text_release(first);
        wf_text_release(second);
        wf_recipe_free(again);
        wf_recipe_free(r);
    }
}

static void the_example_is_an_amber(void **state)
{
    struct wf_recipe *r;
    struct wf_target *t;
    (void)state;
    wf_error_clear(&error);
    if (wf_recipe_read(WF_SOURCE_DIR "/examples/last-autumn-amber.json", NULL, catalogue, &r,
                       &error) != WF_OK)
        fail_msg("%s", error.text);
    assert_int_equal(wf_target_find("amber-ale", catalogue, &t, &error), WF_OK);
    assert_true(r->predicted.og >= t->guideline.og.low && r->predicted.og <= t->guideline.og.high);
    assert_true(r->predicted.srm >= t->guideline.colour.low &&
                r->predicted.srm <= t->guideline.colour.high);
    assert_true(r->predicted.ibu >= t->guideline.bitterness.low &&
                r->predicted.ibu <= t->guideline.bitterness.high);
    wf_target_free(t);
    wf_recipe_free(r);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(ids_and_weights_are_enough),
        cmocka_unit_test(the_forward_path_is_that_of_the_laws),
        cmocka_unit_test(without_yeast_nothing_ferments),
        cmocka_unit_test(figures_come_from_the_store_first),
        cmocka_unit_test(packs_are_shared_by_the_lines_of_a_lot),
        cmocka_unit_test(a_cost_in_the_file_stands),
        cmocka_unit_test(character_is_reckoned),
        cmocka_unit_test(a_recipe_stands_alone),
        cmocka_unit_test(predictions_in_the_file_are_not_believed),
        cmocka_unit_test(one_proof_needs_no_list),
        cmocka_unit_test(where_none_was_found_the_closest_is_read),
        cmocka_unit_test(what_is_written_is_read_back),
        cmocka_unit_test(the_example_is_an_amber),
    };
    return cmocka_run_group_tests(tests, set_up, tear_down) != 0;
}
