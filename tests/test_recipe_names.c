/* Recipes typed by hand: named by full names, brewed on another system, with hops that age, priced.
 */
#include "support/memory.h"
#include "support/test.h"

#include "wortfit/wortfit.h"

#include <stdbool.h>

static struct wf_catalogue *catalogue;
static struct wf_store *cellar;
static struct wf_error error;

static const char cellar_text[] =
    "{\"store\": \"Cellar\", \"currency\": \"EUR\", \"note\": \"invented\", \"malts\": ["
    "{\"id\": \"house-crystal\", \"is\": \"crystal-60\", \"name\": \"House crystal\","
    " \"colour\": \"58 Lov\", \"price\": \"3.00/kg\", \"pack\": \"500 g\"},"
    "{\"id\": \"pilsner-malt\", \"price\": \"2.00/kg\"}, {\"id\": \"flaked-oats\"}],"
    "\"hops\": [{\"id\": \"cascade\", \"alpha\": \"6 %\", \"price\": \"0.05/g\","
    " \"packed\": \"2026-01-01\", \"kept\": \"20 C open\"},"
    "{\"id\": \"this-year\", \"is\": \"saaz\", \"name\": \"Saaz\"},"
    "{\"id\": \"last-year\", \"is\": \"saaz\", \"name\": \"SAAZ\"}],"
    "\"yeasts\": [{\"id\": \"slurry\", \"is\": \"irish-ale\", \"name\": \"Slurry of the last "
    "stout\", \"price\": \"1.00\"}]}";

static struct wf_store *read_cellar(void)
{
    struct wf_store *s;
    wf_error_clear(&error);
    if (wf_store_parse("cellar", cellar_text, strlen(cellar_text), catalogue, &s, &error) != WF_OK)
        fail_msg("%s", error.text);
    return s;
}

static int set_up(void **state)
{
    (void)state;
    if (wf_catalogue_read(&catalogue, &error) != WF_OK)
        return -1;
    cellar = read_cellar();
    return 0;
}

static int tear_down(void **state)
{
    (void)state;
    wf_store_free(cellar);
    wf_catalogue_free(catalogue);
    return 0;
}

static struct wf_recipe *read_on(const char *text, const struct wf_store *s,
                                 const struct wf_brewhouse *b)
{
    struct wf_recipe *r;
    wf_error_clear(&error);
    if (wf_recipe_parse_on("r.json", text, strlen(text), s, catalogue, b, &r, &error) != WF_OK)
        fail_msg("%s", error.text);
    return r;
}

/* ---- Names ----------------------------------------------------------------------------------- */

static void names_stand_for_ids(void **state)
{
    struct wf_recipe *r = read_on(
        "{\"recipe\": \"x\", \"malts\": ["
        "{\"name\": \"vienna MALT\", \"kg\": 3}, {\"id\": \"Crystal malt 40 Lov\", \"kg\": 0.3},"
        "{\"name\": \"HOUSE CRYSTAL\", \"kg\": 0.2}, {\"name\": \"munich-malt-dark\", \"kg\": 1},"
        "{\"id\": \"pilsner-malt\", \"name\": \"Vienna malt\", \"kg\": 1}],"
        "\"hops\": [{\"name\": \"East Kent Golding\", \"g\": 20, \"at\": \"60 min\"},"
        "{\"name\": \"CASCADE\", \"g\": 20, \"at\": \"5 min\"}],"
        "\"yeast\": {\"name\": \"slurry of the last stout\"}}",
        cellar, NULL);
    (void)state;
    assert_string_equal(r->malts[0].id, "vienna-malt");
    assert_string_equal(r->malts[0].name, "Vienna malt"); /* as it is known, not as it was typed */
    assert_string_equal(r->malts[1].id, "crystal-40");
    assert_string_equal(r->malts[1].name, "Crystal malt 40 Lov");
    assert_string_equal(r->malts[2].id, "house-crystal");
    assert_string_equal(r->malts[2].of, "crystal-60");
    assert_close(r->malts[2].grain.lovibond, 58, 1e-9);
    assert_string_equal(r->malts[3].id, "munich-malt-dark");
    assert_string_equal(r->malts[4].id, "pilsner-malt"); /* an id goes before a name */
    assert_string_equal(r->malts[4].name, "Vienna malt");
    assert_string_equal(r->hops[0].id, "east-kent-golding");
    assert_string_equal(r->hops[1].id, "cascade");
    assert_close(r->hops[1].addition.alpha, 0.06, 1e-12); /* the store's, not the catalogue's */
    assert_string_equal(r->yeast.id, "slurry");
    assert_string_equal(r->yeast.of, "irish-ale");
    wf_recipe_free(r);
}

static void names_that_tell_nothing_are_refused(void **state)
{
    static const struct {
        const char *text, *says;
    } rows[] = {
        {"{\"recipe\": \"x\", \"malts\": [{\"name\": \"Hause crystal\", \"kg\": 1}]}",
         "malts[0].name: read \"Hause crystal\"; no malt of this id or name is in the store or the "
         "catalogue; the nearest is \"House crystal\""},
        {"{\"recipe\": \"x\", \"malts\": [{\"id\": \"pilsner-malt\", \"kg\": 1}],"
         "\"hops\": [{\"name\": \"saAz\", \"g\": 10, \"at\": \"5 min\"}]}",
         "hops[0].name: read \"saAz\"; 2 lots of the store are called so; give the \"id\" of one"},
        {"{\"recipe\": \"x\", \"malts\": [{\"name\": \"My own\", \"is\": \"pilsner-malt\","
         " \"kg\": 1}]}",
         "malts[0]: needs \"id\", its own beside \"is\""},
        {"{\"recipe\": \"x\", \"malts\": [{\"name\": \"Grass\", \"yield\": 0.5, \"lovibond\": 3,"
         " \"kg\": 1}]}",
         "malts[0].name: read \"Grass\"; no malt of this id or name is in the store or the "
         "catalogue"},
    };
    (void)state;
    for (size_t i = 0; i < COUNT_OF(rows); i++) {
        struct wf_recipe *r;
        wf_error_clear(&error);
        assert_int_equal(wf_recipe_parse("r.json", rows[i].text, strlen(rows[i].text), cellar,
                                         catalogue, &r, &error),
                         WF_BAD_INPUT);
        assert_null(r);
        const char *said = strstr(error.text, rows[i].says);
        if (!said || said[strlen(rows[i].says)] != '\0')
            fail_msg("\"%s\", not \"%s\"", error.text, rows[i].says);
    }
}

/* ---- On a brewhouse -------------------------------------------------------------------------- */

static struct wf_brewhouse other_system(void)
{
    struct wf_brewhouse b;
    wf_brewhouse_default(WF_UNITS_METRIC, &b);
    b.batch_l = 30;
    b.efficiency = 0.66;
    b.boil_minutes = 90;
    b.evaporation_l_h = 5;
    b.law = WF_RAGER;
    return b;
}

static void a_brewhouse_gives_what_the_recipe_does_not(void **state)
{
    const struct wf_brewhouse b = other_system();
    struct wf_recipe *bare = read_on(
        "{\"recipe\": \"x\", \"malts\": [{\"id\": \"pilsner-malt\", \"kg\": 5}]}", NULL, &b);
    struct wf_recipe *told = read_on("{\"recipe\": \"x\", \"batch_l\": 12, \"kettle\": {"
                                     "\"efficiency\": 0.8, \"boil_min\": 45,"
                                     " \"evaporation_l_h\": 2, \"utilisation\": \"tinseth\"},"
                                     "\"malts\": [{\"id\": \"pilsner-malt\", \"kg\": 5}]}",
                                     NULL, &b);
    (void)state;
    assert_close(bare->kettle.batch_l, 30, 0);
    assert_close(bare->kettle.boil_minutes, 90, 0);
    assert_close(told->kettle.batch_l, 12, 0); /* for which the weights are */
    assert_close(told->kettle.boil_minutes, 45, 0);
    for (int i = 0; i < 2; i++) {
        const struct wf_kettle *k = i == 0 ? &bare->kettle : &told->kettle;
        assert_close(k->efficiency, 0.66, 0);
        assert_close(k->evaporation_l_h, 5, 0);
        assert_int_equal(k->law, WF_RAGER);
    }
    double yield = told->malts[0].grain.yield, og;
    assert_int_equal(wf_gravity_from_extract(5 * yield * 0.66 / 12, &og), WF_OK);
    assert_close(told->predicted.og, og, 1e-12);
    wf_recipe_free(told);
    wf_recipe_free(bare);
}

/* ---- Age ------------------------------------------------------------------------------------- */

static void hops_age_once(void **state)
{
    struct wf_store *s = read_cellar();
    const long day = 20500; /* 2026-02-16 */
    double once;
    (void)state;
    const struct wf_hop *h = wf_store_hop(s, "cascade");
    assert_int_equal(wf_hop_alpha_on(h, day, &once), WF_OK);
    assert_close(once, 0.06 * pow(1 - h->six_month_loss, (double)(day - h->packed) / 180), 1e-12);
    assert_int_equal(wf_store_age(s, day, &error), WF_OK);
    assert_close(h->alpha, once, 0);
    assert_int_equal(wf_store_age(s, day + 300, &error), WF_OK);
    assert_close(h->alpha, once, 0);
    assert_close(wf_store_hop(s, "this-year")->alpha, wf_store_hop(cellar, "this-year")->alpha, 0);
    wf_store_free(s);
}

static void a_hop_of_ten_years_is_refused(void **state)
{
    struct wf_store *s = read_cellar();
    (void)state;
    wf_error_clear(&error);
    assert_int_equal(wf_store_age(s, 30000, &error), WF_OUT_OF_RANGE);
    assert_non_null(strstr(error.text, "hop \"cascade\": packed more than ten years"));
    wf_store_free(s);
}

/* ---- Price ----------------------------------------------------------------------------------- */

static const char priced_text[] =
    "{\"recipe\": \"x\", \"currency\": \"%s\", \"price_note\": \"old\", \"malts\": ["
    "{\"id\": \"pilsner-malt\", \"kg\": 4, \"cost\": 99},"
    "{\"id\": \"house-crystal\", \"kg\": 0.6, \"cost\": 99},"
    "{\"id\": \"vienna-malt\", \"kg\": 1, \"cost\": 1.5}, {\"id\": \"flaked-oats\", \"kg\": 0.2,"
    " \"cost\": 1}],"
    "\"hops\": [{\"id\": \"cascade\", \"g\": 20, \"at\": \"5 min\", \"cost\": 9}],"
    "\"yeast\": {\"id\": \"irish-ale\", \"cost\": 5}}";

static void check_priced(const char *currency, bool same_money)
{
    char text[1024];
    snprintf(text, sizeof text, priced_text, currency);
    struct wf_recipe *r = read_on(text, cellar, NULL);
    assert_int_equal(wf_recipe_price(r, cellar, &error), WF_OK);
    assert_close(r->malts[0].cost, 8, 1e-12);
    assert_close(r->malts[1].cost, 3, 1e-12); /* two packs */
    assert_true(isnan(r->malts[3].cost));     /* in the store, without a price */
    assert_close(r->hops[0].cost, 1, 1e-12);
    assert_close(r->cost, same_money ? 8 + 3 + 1.5 + 1 + 5 : 12, 1e-12);
    assert_int_equal(r->unpriced, same_money ? 1 : 3);
    assert_string_equal(r->currency, "EUR");
    assert_string_equal(r->price_note, "invented");
    wf_recipe_free(r);
}

static void prices_are_the_stores(void **state)
{
    (void)state;
    check_priced("EUR", true);
    check_priced("USD", false);
}

/* ---- Memory ---------------------------------------------------------------------------------- */

static enum wf_status read_by_name(void *data, struct wf_error *e)
{
    struct wf_recipe *r;
    enum wf_status status = wf_recipe_parse("r.json", data, strlen(data), cellar, catalogue, &r, e);
    if (status == WF_OK)
        status = wf_recipe_price(r, cellar, e);
    wf_recipe_free(r);
    return status;
}

static void memory_may_run_out(void **state)
{
    char by_name[] = "{\"recipe\": \"x\", \"malts\": [{\"name\": \"Vienna malt\", \"kg\": 4}],"
                     "\"hops\": [{\"name\": \"Cascade\", \"g\": 9, \"at\": \"60 min\"}],"
                     "\"yeast\": {\"name\": \"slurry of the last stout\"}}";
    (void)state;
    check_out_of_memory(read_by_name, by_name, 20, 1);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(names_stand_for_ids),
        cmocka_unit_test(names_that_tell_nothing_are_refused),
        cmocka_unit_test(a_brewhouse_gives_what_the_recipe_does_not),
        cmocka_unit_test(hops_age_once),
        cmocka_unit_test(a_hop_of_ten_years_is_refused),
        cmocka_unit_test(prices_are_the_stores),
        cmocka_unit_test(memory_may_run_out),
    };
    return cmocka_run_group_tests(tests, set_up, tear_down) != 0;
}
