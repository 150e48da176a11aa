/*
 * Scaling: the same beer on another system. The exact weights are reckoned here once more, from
 * shares and gravity; that the steps next to them are well chosen is held against all other
 * choices.
 */
#include "support/dice.h"
#include "support/memory.h"
#include "support/test.h"
#include "support/with_catalogue.h"

#include "wortfit/wortfit.h"

#include <stdbool.h>

static struct wf_recipe *parse(const char *text, const struct wf_store *s)
{
    struct wf_recipe *r;
    wf_error_clear(&error);
    if (wf_recipe_parse("r.json", text, strlen(text), s, catalogue, &r, &error) != WF_OK)
        fail_msg("%s\n%s", error.text, text);
    return r;
}

static struct wf_store *parse_store(const char *text)
{
    struct wf_store *s;
    wf_error_clear(&error);
    if (wf_store_parse("s.json", text, strlen(text), catalogue, &s, &error) != WF_OK)
        fail_msg("%s", error.text);
    return s;
}

static struct wf_recipe *scale(const struct wf_recipe *r, double batch_l,
                               const struct wf_brewhouse *b, const struct wf_store *s)
{
    const struct wf_scale_options o = {.batch_l = batch_l, .brewhouse = b, .store = s};
    struct wf_recipe *scaled;
    wf_error_clear(&error);
    if (wf_recipe_scale(r, &o, &scaled, &error) != WF_OK)
        fail_msg("%s", error.text);
    return scaled;
}

static struct wf_brewhouse usual(void)
{
    struct wf_brewhouse b;
    wf_brewhouse_default(WF_UNITS_METRIC, &b);
    return b;
}

/* A home brewer's amber, of whole steps. */
static const char amber[] =
    "{\"recipe\": \"Amber\", \"currency\": \"EUR\", \"malts\": ["
    "{\"id\": \"pale-ale-malt-british\", \"kg\": 3.95, \"cost\": 7.9},"
    "{\"id\": \"munich-malt-light\", \"kg\": 0.45},"
    "{\"id\": \"crystal-40\", \"kg\": 0.3}, {\"id\": \"crystal-120\", \"kg\": 0.16},"
    "{\"id\": \"chocolate-malt-350\", \"kg\": 0.04}, {\"id\": \"cane-sugar\", \"kg\": 0.2}],"
    "\"hops\": [{\"id\": \"magnum\", \"g\": 13, \"at\": \"60 min\", \"cost\": 0.52},"
    "{\"id\": \"cascade\", \"g\": 28, \"at\": \"10 min\"},"
    "{\"id\": \"centennial\", \"g\": 20, \"at\": \"stand 20 min 80 C\"},"
    "{\"id\": \"cascade\", \"g\": 25, \"at\": \"dry 4 days\"}],"
    "\"yeast\": {\"id\": \"american-ale-clean\", \"cost\": 4}}";

/* ---- What is kept ---------------------------------------------------------------------------- */

static void on_its_own_system_nothing_changes(void **state)
{
    const struct wf_brewhouse b = usual();
    struct wf_recipe *r = parse(amber, NULL), *same = scale(r, 20, &b, NULL);
    (void)state;
    assert_int_equal(same->malt_count, r->malt_count);
    for (size_t i = 0; i < r->malt_count; i++)
        assert_close(same->malts[i].kg, r->malts[i].kg, 1e-9);
    for (size_t i = 0; i < r->hop_count; i++)
        assert_close(same->hops[i].grams, r->hops[i].grams, 1e-9);
    assert_close(same->predicted.og, r->predicted.og, 1e-12);
    assert_close(same->cost, r->cost, 1e-9);
    assert_string_equal(same->yeast.id, "american-ale-clean");
    assert_close(same->stand_length, 20, 0);
    for (size_t i = 0; i < same->wish_count; i++)
        assert_true(same->wishes[i].met &&
                    fabs(same->wishes[i].got - same->wishes[i].wanted.aim) < 1e-9);
    wf_recipe_free(same);
    wf_recipe_free(r);
}

static void twice_as_much_is_twice_the_weights(void **state)
{
    const struct wf_brewhouse b = usual();
    struct wf_recipe *r = parse(amber, NULL), *two = scale(r, 40, &b, NULL);
    (void)state;
    for (size_t i = 0; i < r->malt_count; i++)
        assert_close(two->malts[i].kg, 2 * r->malts[i].kg, 1e-9);
    assert_close(two->malts[0].cost, 15.8, 1e-9);
    assert_close(two->hops[3].grams, 50, 1e-9); /* dry hops by their dose */
    /* 3 L/h from 40 L concentrate the wort less than from 20 L: its boil is of a higher mean
     * gravity, so each gram gives less. */
    assert_true(two->predicted.boil_gravity > r->predicted.boil_gravity);
    assert_true(two->hops[0].grams > 26);
    assert_close(two->hops[0].ibu, r->hops[0].ibu, two->hops[0].ibu / two->hops[0].grams);
    wf_recipe_free(two);
    wf_recipe_free(r);
}

static void losses_and_boil_are_made_good(void **state)
{
    struct wf_brewhouse b = usual();
    struct wf_recipe *r = parse(amber, NULL);
    (void)state;
    b.efficiency = 0.64;
    b.boil_minutes = 40;
    b.evaporation_l_h = 1;
    b.step_malt_kg = b.step_specialty_kg = 0.001;
    b.step_hop_g = 0.1;
    struct wf_recipe *kept = scale(r, 100, &b, NULL); /* the boil is not given: the recipe's */
    b.boil_given = true;
    struct wf_recipe *shorter = scale(r, 100, &b, NULL);
    assert_close(kept->kettle.boil_minutes, 60, 0);
    assert_close(shorter->kettle.boil_minutes, 40, 0);
    assert_close(shorter->hops[0].addition.minutes, 40, 0); /* no longer than the boil */
    for (int i = 0; i < 2; i++) {
        const struct wf_recipe *s = i == 0 ? kept : shorter;
        assert_close(s->predicted.og, r->predicted.og, 1e-5);
        assert_close(s->predicted.fg, r->predicted.fg, 5e-4); /* sugar is not mashed */
        for (size_t k = 0; k < r->malt_count; k++)
            assert_close(s->malts[k].share, r->malts[k].share, 1e-4);
        assert_close(s->hops[0].ibu, r->hops[0].ibu, 0.01);
        for (size_t k = 1; k < r->hop_count; k++)
            assert_close(s->hops[k].grams, 5 * r->hops[k].grams, 0.1);
    }
    assert_true(shorter->hops[0].grams > kept->hops[0].grams);
    /* Less efficiency takes more malt for the same gravity, so the beer is darker. */
    assert_true(kept->predicted.srm > r->predicted.srm);
    wf_recipe_free(shorter);
    wf_recipe_free(kept);
    wf_recipe_free(r);
}

static void the_law_stays_the_recipes(void **state)
{
    struct wf_brewhouse b = usual();
    struct wf_recipe *r = parse(amber, NULL);
    (void)state;
    b.law = WF_RAGER;
    struct wf_recipe *s = scale(r, 20, &b, NULL);
    assert_int_equal(s->kettle.law, WF_TINSETH);
    assert_close(s->hops[0].grams, r->hops[0].grams, 1e-9);
    wf_recipe_free(s);
    wf_recipe_free(r);
}

static void what_is_in_it_stays_in_it(void **state)
{
    const struct wf_brewhouse b = usual();
    struct wf_recipe *r = parse("{\"recipe\": \"x\", \"batch_l\": 100, \"malts\": ["
                                "{\"id\": \"pilsner-malt\", \"kg\": 20},"
                                "{\"id\": \"black-malt\", \"kg\": 0.03},"
                                "{\"id\": \"vienna-malt\", \"kg\": 0}], \"hops\": ["
                                "{\"id\": \"saaz\", \"g\": 9, \"at\": \"5 min\"},"
                                "{\"id\": \"saaz\", \"g\": 0, \"at\": \"60 min\"}]}",
                                NULL);
    struct wf_recipe *s = scale(r, 5, &b, NULL);
    (void)state;
    assert_int_equal(s->malt_count, 2); /* what weighs nothing is not in it */
    assert_close(s->malts[1].kg, 0.01, 1e-12);
    assert_int_equal(s->hop_count, 1);
    assert_close(s->hops[0].grams, 1, 1e-12);
    wf_recipe_free(s);
    wf_recipe_free(r);
}

/* ---- The store ------------------------------------------------------------------------------- */

static void lots_of_the_store_take_their_place(void **state)
{
    const struct wf_brewhouse b = usual();
    struct wf_store *s = parse_store(
        "{\"store\": \"s\", \"currency\": \"EUR\", \"malts\": ["
        "{\"id\": \"pale-ale-malt-british\", \"extract\": \"76 %\", \"moisture\": \"5 %\","
        " \"have\": \"5 kg\", \"price\": \"2.00/kg\", \"pack\": \"1 kg\", \"step\": \"20 g\"},"
        "{\"id\": \"munich-malt-light\", \"have\": \"2 kg\"}],"
        "\"hops\": [{\"id\": \"magnum\", \"alpha\": \"10 %\", \"form\": \"whole\","
        " \"have\": \"100 g\", \"price\": \"0.10/g\"},"
        "{\"id\": \"cascade\", \"have\": \"60 g\"}],"
        "\"yeasts\": [{\"id\": \"american-ale-clean\", \"attenuation\": \"70..72 %\","
        " \"price\": \"6.00\"}]}");
    struct wf_recipe *r = parse(amber, NULL), *n = scale(r, 40, &b, s);
    size_t shortages = 0;
    (void)state;
    assert_close(n->malts[0].grain.yield, 0.76 * 0.95, 1e-12);
    assert_close(fmod(n->malts[0].kg + 1e-9, 0.02), 0, 1e-6);
    assert_close(n->malts[0].share, r->malts[0].share, 0.005);
    assert_close(n->predicted.og, r->predicted.og, 0.0005);
    assert_close(n->malts[0].cost, 2 * ceil(n->malts[0].kg), 1e-9);
    assert_true(isnan(n->malts[1].cost)); /* in the store, without a price */
    assert_close(n->hops[0].addition.alpha, 0.10, 1e-12);
    assert_close(n->hops[0].addition.form, 0.9, 1e-12);
    assert_close(n->hops[0].ibu, r->hops[0].ibu, 0.6 * n->hops[0].ibu / n->hops[0].grams);
    assert_close(n->yeast.attenuation, 0.71, 1e-12);
    assert_close(n->yeast.cost, 6, 0);
    for (size_t i = 0; i < n->wish_count; i++) {
        const struct wf_wish_result *w = &n->wishes[i];
        if (w->dimension != WF_DIM_MASS)
            continue;
        shortages++;
        assert_false(w->met);
        if (shortages == 1)
            assert_close(w->missed_by, n->malts[0].kg - 5, 1e-9);
        else
            assert_close(w->missed_by, 0.106 - 0.060, 1e-9); /* both of its additions */
    }
    assert_int_equal(shortages, 2);
    wf_recipe_free(n);
    wf_recipe_free(r);
    wf_store_free(s);
}

/* ---- Limits ---------------------------------------------------------------------------------- */

static void hundreds_of_lines_are_scaled(void **state)
{
    const struct wf_brewhouse b = usual();
    static char text[60000];
    int n = snprintf(text, sizeof text, "{\"recipe\": \"x\", \"batch_l\": 3000, \"malts\": [");
    (void)state;
    for (int i = 0; i < 300; i++)
        n += snprintf(text + n, sizeof text - (size_t)n, "%s{\"id\": \"%s\", \"kg\": %.3f}",
                      i ? "," : "", catalogue->malts[(size_t)i % 10].id, 2 + 0.007 * i);
    snprintf(text + n, sizeof text - (size_t)n, "]}");
    struct wf_recipe *r = parse(text, NULL), *s = scale(r, 1111, &b, NULL);
    assert_int_equal(s->malt_count, 300);
    assert_close(s->predicted.og, r->predicted.og, 0.0005);
    wf_recipe_free(s);
    wf_recipe_free(r);
}

static void a_store_may_make_it_impossible(void **state)
{
    const struct wf_brewhouse b = usual();
    const struct wf_scale_options o = {20, &b, NULL};
    struct wf_store *s = parse_store("{\"store\": \"s\", \"malts\": [{\"id\": \"pilsner-malt\"}],"
                                     "\"hops\": []}");
    struct wf_scale_options with = o;
    struct wf_recipe *n,
        *r = parse("{\"recipe\": \"x\", \"malts\": [{\"id\": \"pilsner-malt\", \"kg\": 4}]}", NULL);
    (void)state;
    s->malts[0].grain.yield = 0; /* no reader gives this; a program might */
    with.store = s;
    assert_int_equal(wf_recipe_scale(r, &with, &n, &error), WF_OUT_OF_RANGE);
    assert_null(n);
    assert_non_null(strstr(error.text, "recipe \"x\" cannot be scaled"));
    wf_recipe_free(r);
    wf_store_free(s);
}

static enum wf_status scale_in_little_memory(void *data, struct wf_error *e)
{
    const struct wf_brewhouse b = usual();
    const struct wf_scale_options o = {33, &b, data};
    const struct wf_report_style style = {WF_UNITS_METRIC, false};
    struct wf_recipe *r, *s = NULL;
    struct wf_comparison *c = NULL;
    char *text = NULL;
    enum wf_status status = wf_recipe_parse("r", amber, strlen(amber), NULL, catalogue, &r, e);
    if (status == WF_OK)
        status = wf_recipe_scale(r, &o, &s, e);
    if (status == WF_OK)
        status = wf_compare(r, s, &c, e);
    if (status == WF_OK)
        status = wf_report_scale_text(c, &style, &text, e);
    wf_text_release(text);
    wf_comparison_free(c);
    wf_recipe_free(s);
    wf_recipe_free(r);
    return status;
}

static void memory_may_run_out(void **state)
{
    struct wf_store *s = parse_store("{\"store\": \"s\", \"note\": \"n\", \"malts\": ["
                                     "{\"id\": \"crystal-40\", \"have\": \"10 g\"}],"
                                     "\"hops\": [{\"id\": \"cascade\", \"have\": \"1 g\"}]}");
    (void)state;
    check_out_of_memory(scale_in_little_memory, s, 100, 7);
    wf_store_free(s);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(on_its_own_system_nothing_changes),
        cmocka_unit_test(twice_as_much_is_twice_the_weights),
        cmocka_unit_test(losses_and_boil_are_made_good),
        cmocka_unit_test(the_law_stays_the_recipes),
        cmocka_unit_test(what_is_in_it_stays_in_it),
        cmocka_unit_test(lots_of_the_store_take_their_place),
        cmocka_unit_test(hundreds_of_lines_are_scaled),
        cmocka_unit_test(a_store_may_make_it_impossible),
        cmocka_unit_test(memory_may_run_out),
    };
    return cmocka_run_group_tests(tests, set_up, tear_down) != 0;
}
