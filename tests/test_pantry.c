/* Good stores and brewhouses: what is read, what is overridden, what is taken for granted. */
#include "support/test.h"

#include "wortfit/pantry.h"

#include <stdbool.h>

static struct wf_catalogue *catalogue;
static struct wf_error error;

static int set_up(void **state)
{
    (void)state;
    return wf_catalogue_read(&catalogue, &error) == WF_OK ? 0 : -1;
}

static int tear_down(void **state)
{
    (void)state;
    wf_catalogue_free(catalogue);
    catalogue = NULL;
    return 0;
}

static struct wf_store *read_store(const char *text)
{
    struct wf_store *s;
    wf_error_clear(&error);
    if (wf_store_parse("store.json", text, strlen(text), catalogue, &s, &error) != WF_OK)
        fail_msg("%s", error.text);
    return s;
}

/* ---- Catalogue ------------------------------------------------------------------------------- */

static void entries_are_found_by_id(void **state)
{
    (void)state;
    for (size_t i = 0; i < catalogue->malt_count; i++)
        assert_ptr_equal(wf_catalogue_malt(catalogue, catalogue->malts[i].id),
                         &catalogue->malts[i]);
    for (size_t i = 0; i < catalogue->hop_count; i++)
        assert_ptr_equal(wf_catalogue_hop(catalogue, catalogue->hops[i].id), &catalogue->hops[i]);
    for (size_t i = 0; i < catalogue->yeast_count; i++)
        assert_ptr_equal(wf_catalogue_yeast(catalogue, catalogue->yeasts[i].id),
                         &catalogue->yeasts[i]);
    assert_null(wf_catalogue_malt(catalogue, "cascade"));
    assert_null(wf_catalogue_hop(catalogue, "pilsner-malt"));
    assert_null(wf_catalogue_yeast(catalogue, ""));
    assert_null(wf_catalogue_malt(catalogue, NULL));
}

static void entries_are_found_without_an_index_too(void **state)
{
    struct wf_catalogue bare = *catalogue;
    (void)state;
    bare.index = NULL;
    assert_string_equal(wf_catalogue_malt(&bare, "crystal-60")->id, "crystal-60");
    assert_null(wf_catalogue_malt(&bare, "crystal-61"));
}

static void an_entry_holds_the_file_s_figures(void **state)
{
    const struct wf_malt *m = wf_catalogue_malt(catalogue, "pilsner-malt");
    const struct wf_hop *h = wf_catalogue_hop(catalogue, "cascade");
    const struct wf_yeast *y = wf_catalogue_yeast(catalogue, "american-ale-clean");
    (void)state;
    assert_string_equal(m->of, "pilsner-malt");
    assert_int_equal(m->class, WF_CLASS_BASE);
    assert_close(m->fine_dry, 0.81, 1e-12);
    assert_close(m->grain.yield, 0.81 * (1 - 0.045), 1e-12);
    assert_close(m->grain.lovibond, 1.7, 1e-12);
    assert_close(m->grain.lintner, 95, 1e-12);
    assert_close(m->grain.fermentability, 1, 0);
    assert_close(m->usual_most, 1, 0);
    assert_true(m->grain.mashed && !m->grain.sugar);
    assert_close(m->character[WF_WORD_GRAINY], 3, 0);
    assert_string_equal(m->allergens, "gluten");
    assert_true(isinf(m->have_kg) && isnan(m->price_per_kg) && isnan(m->most));
    assert_string_equal(h->origin, "USA");
    assert_close(h->alpha, 0.06, 1e-12);
    assert_close(h->alpha_low, 0.045, 1e-12);
    assert_close(h->alpha_high, 0.089, 1e-12);
    assert_close(h->six_month_loss, 0.55, 1e-12);
    assert_true(h->bittering && h->aroma && !h->whole);
    assert_close(h->character[WF_WORD_CITRUS - WF_MALT_WORD_COUNT], 4, 0);
    assert_string_equal(h->substitutes[0], "centennial");
    assert_string_equal(y->family, "ale");
    assert_close(y->attenuation_low, 0.73, 1e-12);
    assert_close(y->attenuation_high, 0.80, 1e-12);
    assert_close(y->alcohol_most, 0.11, 1e-12);
    assert_string_equal(y->flocculation, "medium");
}

/* 95 x 0.01 is more than 0.95 by a last bit. */
static void a_limit_itself_is_taken(void **state)
{
    struct wf_store *s =
        read_store("{\"store\": \"x\", \"malts\": [{\"id\": \"pilsner-malt\"}],"
                   " \"hops\": [{\"id\": \"cascade\", \"loss\": \"95 %\", \"alpha\": \"30 %\"}]}");
    (void)state;
    assert_close(s->hops[0].six_month_loss, 0.95, 0);
    assert_close(s->hops[0].alpha, 0.30, 0);
    wf_store_free(s);
}

static void sugars_are_told_from_malts(void **state)
{
    const struct wf_malt *m = wf_catalogue_malt(catalogue, "lactose");
    (void)state;
    assert_true(m->grain.sugar && !m->grain.mashed);
    assert_close(m->grain.fermentability, 0, 0);
}

/* ---- Lots of malt ---------------------------------------------------------------------------- */

static void a_lot_overrides_its_entry(void **state)
{
    struct wf_store *s = read_store(
        "{\"store\": \"Cellar\", \"currency\": \"EUR\", \"note\": \"invented\", \"malts\": ["
        "{\"id\": \"pale-ale-malt-british\", \"have\": \"14.2 kg\", \"price\": \"1.65/kg\","
        " \"extract\": \"81.2 %\", \"moisture\": \"3.4 %\", \"colour\": \"5.6 EBC\","
        " \"diastatic\": \"58 Lintner\", \"packed\": \"2026-03-01\", \"opened\": "
        "\"2026-05-01\"}]}");
    const struct wf_malt *entry = wf_catalogue_malt(catalogue, "pale-ale-malt-british");
    const struct wf_malt *m = &s->malts[0];
    (void)state;
    assert_string_equal(s->name, "Cellar");
    assert_string_equal(s->currency, "EUR");
    assert_string_equal(s->note, "invented");
    assert_string_equal(m->of, entry->id);
    assert_string_equal(m->name, entry->name);
    assert_close(m->grain.yield, 0.812 * 0.966, 1e-12);
    assert_close(m->grain.lovibond, (5.6 / 1.97 + 0.76) / 1.3546, 1e-9);
    assert_close(m->grain.lintner, 58, 1e-12);
    assert_close(m->have_kg, 14.2, 1e-12);
    assert_close(m->price_per_kg, 1.65, 1e-12);
    assert_int_equal(m->packed, 20513);
    assert_int_equal(m->opened, 20574);
    assert_close(m->grain.fermentability, entry->grain.fermentability, 0);
    assert_close(m->usual_most, entry->usual_most, 0);
    assert_memory_equal(m->character, entry->character, sizeof m->character);
    wf_store_free(s);
}

static void one_figure_of_the_analysis_is_enough(void **state)
{
    struct wf_store *s =
        read_store("{\"store\": \"x\", \"malts\": ["
                   "{\"id\": \"pilsner-malt\", \"moisture\": \"6 %\"},"
                   "{\"id\": \"vienna-malt\", \"potential\": \"36 ppg\"},"
                   "{\"id\": \"munich-malt-light\", \"character\": {\"smoky\": 2}}]}");
    const struct wf_malt *munich = wf_catalogue_malt(catalogue, "munich-malt-light");
    (void)state;
    assert_close(s->malts[0].grain.yield, 0.81 * 0.94, 1e-12);
    assert_close(s->malts[1].grain.yield, 36 / 46.21, 1e-12);
    assert_true(isnan(s->malts[1].fine_dry) && isnan(s->malts[1].moisture));
    assert_close(s->malts[2].character[WF_WORD_SMOKY], 2, 0);
    assert_close(s->malts[2].character[WF_WORD_TOAST], munich->character[WF_WORD_TOAST], 0);
    wf_store_free(s);
}

static void a_lot_may_have_a_name_of_its_own(void **state)
{
    struct wf_store *s = read_store(
        "{\"store\": \"x\", \"malts\": ["
        "{\"id\": \"house-crystal\", \"is\": \"crystal-60\", \"colour\": \"58 Lov\"},"
        "{\"id\": \"other-crystal\", \"is\": \"crystal-60\", \"name\": \"The other bag\"},"
        "{\"id\": \"crystal-60\", \"is\": \"crystal-60\"}]}");
    (void)state;
    assert_string_equal(s->malts[0].id, "house-crystal");
    assert_string_equal(s->malts[0].name, "house-crystal");
    assert_string_equal(s->malts[0].of, "crystal-60");
    assert_int_equal(s->malts[0].class, WF_CLASS_CARAMEL);
    assert_close(s->malts[0].grain.lovibond, 58, 1e-12);
    assert_string_equal(s->malts[1].name, "The other bag");
    assert_string_equal(s->currency, "");
    assert_null(s->note);
    assert_int_equal(s->hop_count, 0);
    wf_store_free(s);
}

static void a_lot_with_all_its_figures_needs_no_entry(void **state)
{
    struct wf_store *s = read_store(
        "{\"store\": \"x\", \"malts\": ["
        "{\"id\": \"mine\", \"class\": \"base\", \"extract\": \"79.4 %\", \"moisture\": \"4.8 %\","
        " \"colour\": \"7 EBC\"},"
        "{\"id\": \"syrup\", \"class\": \"sugar\", \"potential\": \"36 ppg\", \"colour\": \"5 "
        "Lov\","
        " \"fermentability\": \"90 %\"}]}");
    const struct wf_malt *m = &s->malts[0], *syrup = &s->malts[1];
    (void)state;
    assert_null(m->of);
    assert_null(m->source);
    assert_string_equal(m->name, "mine");
    assert_close(m->grain.yield, 0.794 * 0.952, 1e-12);
    assert_close(m->grain.lintner, 0, 0);
    assert_close(m->grain.fermentability, 1, 0);
    assert_close(m->usual_most, 1, 0);
    assert_close(m->character[WF_WORD_BREADY], 0, 0);
    assert_true(m->grain.mashed && !m->grain.sugar);
    assert_string_equal(m->allergens, "gluten");
    assert_true(syrup->grain.sugar && !syrup->grain.mashed);
    assert_string_equal(syrup->allergens, "");
    wf_store_free(s);
}

static void figures_in_us_units_are_converted(void **state)
{
    struct wf_store *s = read_store(
        "{\"store\": \"x\", \"malts\": [{\"id\": \"two-row-malt\", \"have\": \"9 lb 4 oz\","
        " \"price\": \"1.45 /lb\", \"pack\": \"1 lb\", \"step\": \"0.5 oz\", \"most\": \"50 %\"}],"
        "\"hops\": [{\"id\": \"cascade\", \"have\": \"2 oz\", \"price\": \"1.90 /oz\"}]}");
    (void)state;
    assert_close(s->malts[0].have_kg, 9.25 * 0.45359237, 1e-9);
    assert_close(s->malts[0].price_per_kg, 1.45 / 0.45359237, 1e-9);
    assert_close(s->malts[0].pack_kg, 0.45359237, 1e-12);
    assert_close(s->malts[0].step_kg, 0.0141747615625, 1e-12);
    assert_close(s->malts[0].most, 0.5, 1e-12);
    assert_close(s->hops[0].have_g, 56.69904625, 1e-9);
    assert_close(s->hops[0].price_per_kg, 1.90 / 0.028349523125, 1e-9);
    wf_store_free(s);
}

/* ---- Lots of hops and yeasts ----------------------------------------------------------------- */

static void hops_are_kept_as_told(void **state)
{
    struct wf_store *s = read_store(
        "{\"store\": \"x\", \"malts\": [{\"id\": \"pilsner-malt\"}], \"hops\": ["
        "{\"id\": \"cascade\", \"alpha\": \"6.1 %\", \"have\": \"85 g\", \"price\": \"0.06/g\","
        " \"packed\": \"2026-03-01\", \"kept\": \"5 C sealed\"},"
        "{\"id\": \"fuggle\", \"kept\": \"-18 C vacuum\", \"form\": \"whole\"},"
        "{\"id\": \"saaz\", \"kept\": \"vacuum\"}, {\"id\": \"perle\", \"kept\": \"40 F\"},"
        "{\"id\": \"mine\", \"alpha\": \"4 %\", \"use\": \"aroma\"}]}");
    const struct wf_hop *h = s->hops;
    (void)state;
    assert_close(h[0].alpha, 0.061, 1e-12);
    assert_close(h[0].alpha_low, 0.045, 1e-12);
    assert_close(h[0].have_g, 85, 1e-9);
    assert_close(h[0].price_per_kg, 60, 1e-9);
    assert_int_equal(h[0].packing, WF_PACKED_SEALED);
    assert_close(h[0].kept_celsius, 5, 1e-12);
    assert_int_equal(h[1].packing, WF_PACKED_VACUUM);
    assert_close(h[1].kept_celsius, -18, 1e-12);
    assert_true(h[1].whole);
    assert_int_equal(h[2].packing, WF_PACKED_VACUUM);
    assert_close(h[2].kept_celsius, 20, 0);
    assert_int_equal(h[3].packing, WF_PACKED_OPEN);
    assert_close(h[3].kept_celsius, 40.0 / 9, 1e-9);
    assert_int_equal(h[3].packed, WF_NO_DATE);
    assert_close(h[4].alpha_low, 0.04, 1e-12);
    assert_close(h[4].alpha_high, 0.04, 1e-12);
    assert_true(h[4].aroma && !h[4].bittering && !h[4].whole);
    assert_true(isinf(h[4].have_g) && isnan(h[4].price_per_kg));
    wf_store_free(s);
}

static void yeasts_are_counted_in_packs(void **state)
{
    struct wf_store *s =
        read_store("{\"store\": \"x\", \"malts\": [{\"id\": \"pilsner-malt\"}], \"yeasts\": ["
                   "{\"id\": \"irish-ale\", \"have\": 2, \"price\": \"4.50\"},"
                   "{\"id\": \"english-ale-dry\", \"have\": \"1\", \"price\": 3.8},"
                   "{\"id\": \"mine\", \"family\": \"wild\", \"attenuation\": \"85 %\"}]}");
    const struct wf_yeast *y = s->yeasts;
    (void)state;
    assert_close(y[0].have, 2, 0);
    assert_close(y[0].price, 4.5, 1e-12);
    assert_close(y[1].have, 1, 0);
    assert_close(y[1].price, 3.8, 1e-12);
    assert_true(isinf(y[2].have) && isnan(y[2].price) && isnan(y[2].celsius_low));
    assert_close(y[2].attenuation_low, 0.85, 1e-12);
    assert_close(y[2].attenuation_high, 0.85, 1e-12);
    assert_string_equal(y[2].family, "wild");
    wf_store_free(s);
}

/* ---- Whole stores ---------------------------------------------------------------------------- */

static void a_store_outlives_the_catalogue(void **state)
{
    struct wf_catalogue *c;
    struct wf_store *s;
    (void)state;
    assert_int_equal(wf_catalogue_read(&c, &error), WF_OK);
    assert_int_equal(wf_store_sample(c, &s, &error), WF_OK);
    assert_int_equal(s->malt_count, c->malt_count);
    assert_int_equal(s->hop_count, c->hop_count);
    assert_int_equal(s->yeast_count, c->yeast_count);
    wf_catalogue_free(c);
    size_t length = 0;
    for (size_t i = 0; i < s->malt_count; i++)
        length += strlen(s->malts[i].of) + strlen(s->malts[i].name) + strlen(s->malts[i].allergens);
    for (size_t i = 0; i < s->hop_count; i++)
        for (size_t k = 0; s->hops[i].substitutes && s->hops[i].substitutes[k]; k++)
            length += strlen(s->hops[i].substitutes[k]);
    for (size_t i = 0; i < s->yeast_count; i++)
        length += strlen(s->yeasts[i].family) + strlen(s->yeasts[i].descriptors);
    assert_true(length > 0);
    wf_store_free(s);
}

/* Messages that find no room are counted, and the first come first. */
static void five_thousand_wrong_lots_are_counted(void **state)
{
    static char text[5000 * 40 + 100];
    struct wf_store *s;
    size_t used = (size_t)snprintf(text, sizeof text, "{\"store\": \"x\", \"malts\": [");
    (void)state;
    for (int i = 0; i < 5000; i++)
        used += (size_t)snprintf(text + used, sizeof text - used,
                                 "%s{\"id\": \"pilsner-malt\", \"have\": 1}", i > 0 ? "," : "");
    snprintf(text + used, sizeof text - used, "]}");
    wf_error_clear(&error);
    assert_int_equal(wf_store_parse("s", text, strlen(text), catalogue, &s, &error), WF_BAD_INPUT);
    assert_null(s);
    assert_int_equal(error.count, 5000 + 4999);
    assert_true(error.hidden > 9000 && error.hidden < error.count);
    assert_memory_equal(error.text, "s:1:57: malts[0].have: ", 23);
}

static void files_are_read_and_missing_ones_named(void **state)
{
    struct wf_store *s;
    struct wf_brewhouse *b;
    struct wf_target *t;
    struct wf_recipe *r;
    const char *path = WF_SOURCE_DIR "/examples/no-such-file.json";
    (void)state;
    wf_error_clear(&error);
    assert_int_equal(wf_store_read(path, catalogue, &s, &error), WF_FILE);
    assert_int_equal(wf_brewhouse_read(path, WF_UNITS_METRIC, &b, &error), WF_FILE);
    assert_int_equal(wf_target_read(path, catalogue, &t, &error), WF_FILE);
    assert_int_equal(wf_recipe_read(path, NULL, catalogue, &r, &error), WF_FILE);
    assert_int_equal(error.count, 4);
    assert_non_null(strstr(error.text, "no-such-file.json"));
    assert_int_equal(wf_store_read(WF_SOURCE_DIR "/examples", catalogue, &s, &error), WF_FILE);
    assert_null(s);
    assert_int_equal(
        wf_store_read(WF_SOURCE_DIR "/examples/alder-lane-cellar.json", catalogue, &s, &error),
        WF_OK);
    assert_string_equal(s->name, "Alder Lane cellar");
    wf_store_free(s);
}

/* ---- Brewhouses ------------------------------------------------------------------------------ */

static struct wf_brewhouse *read_brewhouse(const char *text, enum wf_units units)
{
    struct wf_brewhouse *b;
    wf_error_clear(&error);
    if (wf_brewhouse_parse("b.json", text, strlen(text), units, &b, &error) != WF_OK)
        fail_msg("%s", error.text);
    return b;
}

static void a_brewhouse_has_defaults(void **state)
{
    struct wf_brewhouse *b = read_brewhouse("{\"brewhouse\": \"x\"}", WF_UNITS_METRIC);
    (void)state;
    assert_string_equal(b->name, "x");
    assert_close(b->batch_l, 20, 0);
    assert_close(b->efficiency, 0.75, 0);
    assert_close(b->boil_minutes, 60, 0);
    assert_close(b->evaporation_l_h, 3, 0);
    assert_close(b->kettle_loss_l, 0, 0);
    assert_close(b->step_malt_kg, 0.05, 0);
    assert_close(b->step_specialty_kg, 0.01, 0);
    assert_close(b->step_hop_g, 1, 0);
    assert_close(b->least_malt_kg, 0.03, 0);
    assert_close(b->least_hop_g, 3, 0);
    assert_close(b->absorption_l_kg, 1, 0);
    assert_close(b->mash_l_kg, 3, 0);
    assert_close(b->dead_space_l, 0, 0);
    assert_close(b->grain_celsius, 20, 0);
    assert_true(isnan(b->kettle_l) && isnan(b->tun_l) && isnan(b->fermenter_l));
    assert_true(b->tun_heat_l == 0 && b->altitude_m == 0);
    assert_int_equal(b->law, WF_TINSETH);
    assert_false(b->batch_given || b->boil_given);
    wf_brewhouse_free(b);
}

static void us_defaults_are_round_in_us_units(void **state)
{
    struct wf_brewhouse b;
    (void)state;
    wf_brewhouse_default(WF_UNITS_US, &b);
    assert_close(b.batch_l, 18.92705892, 1e-9);
    assert_close(b.step_malt_kg, 0.045359237, 1e-12);
    assert_close(b.step_specialty_kg, 0.0141747615625, 1e-12);
    assert_close(b.step_hop_g, 1.41747615625, 1e-9);
    assert_close(b.least_malt_kg, 0.028349523125, 1e-12);
    assert_close(b.least_hop_g, 2.8349523125, 1e-9);
}

static void a_brewhouse_is_read(void **state)
{
    struct wf_brewhouse *b = read_brewhouse(
        "{\"brewhouse\": \"Pots\", \"batch\": \"5 gal\", \"efficiency\": \"64 %\","
        "\"boil\": \"75 min\", \"evaporation\": \"1.8 L/h\", \"kettle_loss\": \"0.8 L\","
        "\"scale\": {\"malt\": \"100 g\", \"hop\": \"5 g\"}, \"least\": {\"hop\": \"6 g\"},"
        "\"absorption\": \"1.2 L/kg\", \"mash\": {\"liquor\": \"3.5 L/kg\", \"grain\": \"68 F\","
        "\"tun\": \"25 L\", \"tun_heat\": \"0.6 L\"}, \"kettle\": \"30 L\", \"fermenter\": \"7 "
        "gal\","
        "\"altitude\": \"5280 ft\","
        "\"utilisation\": \"rager\"}",
        WF_UNITS_METRIC);
    (void)state;
    assert_close(b->batch_l, 18.92705892, 1e-9);
    assert_close(b->efficiency, 0.64, 1e-12);
    assert_close(b->boil_minutes, 75, 0);
    assert_close(b->evaporation_l_h, 1.8, 1e-12);
    assert_close(b->kettle_loss_l, 0.8, 1e-12);
    assert_close(b->step_malt_kg, 0.1, 1e-12);
    assert_close(b->step_specialty_kg, 0.01, 0);
    assert_close(b->step_hop_g, 5, 1e-12);
    assert_close(b->least_malt_kg, 0.03, 0);
    assert_close(b->least_hop_g, 6, 1e-12);
    assert_close(b->mash_l_kg, 3.5, 1e-12);
    assert_close(b->grain_celsius, 20, 1e-9);
    assert_close(b->tun_l, 25, 0);
    assert_close(b->tun_heat_l, 0.6, 1e-12);
    assert_close(b->kettle_l, 30, 0);
    assert_close(b->fermenter_l, 7 * 3.785411784, 1e-9);
    assert_close(b->altitude_m, 1609.344, 1e-9);
    assert_int_equal(b->law, WF_RAGER);
    assert_true(b->batch_given && b->boil_given);
    wf_brewhouse_free(b);
}

/* ---- Words ----------------------------------------------------------------------------------- */

static void words_have_names(void **state)
{
    (void)state;
    assert_string_equal(wf_word_name(WF_WORD_DARK_FRUIT), "dark-fruit");
    assert_string_equal(wf_word_text(WF_WORD_RESIN), "pine, resin");
    assert_string_equal(wf_word_name(WF_WORD_COUNT), "unknown");
    assert_string_equal(wf_malt_class_name(WF_CLASS_HIGH_KILNED), "high-kilned");
    assert_string_equal(wf_malt_class_name(WF_CLASS_COUNT), "unknown");
    assert_string_equal(wf_recipe_status_name(WF_RECIPE_UNPROVED), "unproved");
    assert_int_equal(WF_MALT_WORD_COUNT, 13);
    assert_int_equal(WF_WORD_COUNT - WF_MALT_WORD_COUNT, 10);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(entries_are_found_by_id),
        cmocka_unit_test(entries_are_found_without_an_index_too),
        cmocka_unit_test(an_entry_holds_the_file_s_figures),
        cmocka_unit_test(a_limit_itself_is_taken),
        cmocka_unit_test(sugars_are_told_from_malts),
        cmocka_unit_test(a_lot_overrides_its_entry),
        cmocka_unit_test(one_figure_of_the_analysis_is_enough),
        cmocka_unit_test(a_lot_may_have_a_name_of_its_own),
        cmocka_unit_test(a_lot_with_all_its_figures_needs_no_entry),
        cmocka_unit_test(figures_in_us_units_are_converted),
        cmocka_unit_test(hops_are_kept_as_told),
        cmocka_unit_test(yeasts_are_counted_in_packs),
        cmocka_unit_test(a_store_outlives_the_catalogue),
        cmocka_unit_test(five_thousand_wrong_lots_are_counted),
        cmocka_unit_test(files_are_read_and_missing_ones_named),
        cmocka_unit_test(a_brewhouse_has_defaults),
        cmocka_unit_test(us_defaults_are_round_in_us_units),
        cmocka_unit_test(a_brewhouse_is_read),
        cmocka_unit_test(words_have_names),
    };
    return cmocka_run_group_tests(tests, set_up, tear_down) != 0;
}
