/* Recipes held against a target, and set side by side. */
#include "support/memory.h"
#include "support/test.h"
#include "support/with_catalogue.h"

#include "wortfit/wortfit.h"

#include <stdbool.h>

static struct wf_recipe *read_recipe(const char *text)
{
    struct wf_recipe *r;
    wf_error_clear(&error);
    if (wf_recipe_parse("r.json", text, strlen(text), NULL, catalogue, &r, &error) != WF_OK)
        fail_msg("%s", error.text);
    return r;
}

/* ---- Check ----------------------------------------------------------------------------------- */

static const char target_text[] =
    "{\"target\": \"probe\", \"name\": \"Probe\", \"og\": \"1.045..1.055\", \"colour\": \"3..9 "
    "SRM\", \"bitterness\": \"20..30 IBU\", \"attenuation\": \"74..80 %\","
    "\"only\": [\"base\", \"high-kilned\", \"caramel\"], \"avoid\": [\"vienna-malt\", \"citra\"],"
    "\"yeast\": [\"lager\", \"american-ale-clean\"], \"hops\": ["
    "{\"at\": \"60 min\", \"origin\": [\"Germany\"]},"
    "{\"at\": \"10 min\", \"dose\": \"1 g/L\", \"hop\": [\"saaz\", \"cascade\"]}]}";

#define BASE   "{\"id\": \"pilsner-malt\", \"kg\": 4.4}"
#define BITTER "{\"id\": \"magnum\", \"g\": 14, \"alpha\": 0.12, \"at\": \"60 min\"}"
#define LATE   "{\"id\": \"saaz\", \"g\": 20, \"at\": \"10 min\"}"
#define YEAST  "\"yeast\": {\"id\": \"american-ale-clean\"}"

static struct wf_target *read_probe(void)
{
    struct wf_target *t;
    wf_error_clear(&error);
    if (wf_target_parse("t.json", target_text, strlen(target_text), catalogue, &t, &error) != WF_OK)
        fail_msg("%s", error.text);
    return t;
}

static struct wf_recipe *recipe_of(const char *malts, const char *hops, const char *yeast)
{
    char text[2048];
    snprintf(text, sizeof text, "{\"recipe\": \"x\", \"malts\": [%s], \"hops\": [%s]%s%s}", malts,
             hops, *yeast ? ", " : "", yeast);
    return read_recipe(text);
}

static const struct wf_wish_result *find_wish(const struct wf_recipe *r, const char *wish)
{
    for (size_t i = 0; i < r->wish_count; i++)
        if (strcmp(r->wishes[i].wish, wish) == 0)
            return &r->wishes[i];
    return NULL;
}

static void wishes_met_are_told(void **state)
{
    struct wf_target *t = read_probe();
    struct wf_recipe *r = recipe_of(BASE, BITTER "," LATE, YEAST);
    (void)state;
    if (wf_recipe_check(r, t, catalogue, 1, &error) != WF_OK)
        fail_msg("%s", error.text);
    assert_string_equal(error.text, "");
    assert_close(find_wish(r, "original gravity")->got, r->predicted.og, 0);
    assert_close(find_wish(r, "colour")->got, r->predicted.srm, 0);
    assert_close(find_wish(r, "bitterness")->got, r->predicted.ibu, 0);
    assert_close(find_wish(r, "hops at 10 min")->got, 1, 1e-12);
    assert_int_equal(r->wish_count, 6); /* with diastatic power and a yeast that suits */
    wf_recipe_free(r);
    wf_target_free(t);
}

/* One fault each: the wish that it misses, and by how much. */
static struct fault {
    const char *malts, *hops, *yeast, *wish;
    double missed_by;
} faults[] = {
    {"{\"id\": \"pilsner-malt\", \"kg\": 4.0}, {\"id\": \"vienna-malt\", \"kg\": 0.4}",
     BITTER "," LATE, YEAST, "to be avoided: Vienna malt", 0.4 / 4.4},
    {"{\"id\": \"pilsner-malt\", \"kg\": 4.29}, {\"id\": \"chocolate-malt-350\", \"kg\": 0.01}",
     BITTER "," LATE, YEAST, "does not belong: Chocolate malt (350 Lov)", 0.01 / 4.3},
    {BASE, BITTER "," LATE ", {\"id\": \"citra\", \"g\": 10, \"at\": \"dry 3 days\"}", YEAST,
     "to be avoided: Citra", 0.5},
    {BASE, BITTER ", {\"id\": \"perle\", \"g\": 20, \"at\": \"10 min\"}", YEAST,
     "not at 10 min: Perle", 1},
    {BASE, "{\"id\": \"fuggle\", \"g\": 38, \"alpha\": 0.045, \"at\": \"60 min\"}," LATE, YEAST,
     "not at 60 min: Fuggle", 1.9},
    {BASE,
     BITTER ", {\"id\": \"saaz\", \"g\": 10, \"at\": \"10 min\"},"
            "{\"id\": \"cascade\", \"g\": 10, \"at\": \"10 min\"}",
     YEAST, "varieties at 10 min", 1},
    {BASE, BITTER "," LATE, "\"yeast\": {\"id\": \"irish-ale\", \"attenuation\": 0.75}",
     "a yeast that suits", 1},
    {BASE, BITTER "," LATE, "\"yeast\": {\"id\": \"american-ale-clean\", \"attenuation\": 0.7}",
     "attenuation of the yeast", 0.04},
    {"{\"id\": \"pilsner-malt\", \"kg\": 5.2}", BITTER "," LATE, YEAST, "original gravity", -1},
    {BASE, BITTER, YEAST, "hops at 10 min", 1 - 0.025}, /* half a step of 1 g in 20 L */
};

static void a_fault_is_a_wish_missed(void **state)
{
    const struct fault *f = *state;
    struct wf_target *t = read_probe();
    struct wf_recipe *r = recipe_of(f->malts, f->hops, f->yeast);
    size_t missed = 0;
    assert_int_equal(wf_recipe_check(r, t, catalogue, 1, &error), WF_NO_RECIPE);
    for (size_t i = 0; i < r->wish_count; i++)
        missed += !r->wishes[i].met;
    const struct wf_wish_result *w = find_wish(r, f->wish);
    if (!w)
        fail_msg("no wish \"%s\"", f->wish);
    assert_false(w->met);
    if (f->missed_by >= 0)
        assert_close(w->missed_by, f->missed_by, 1e-9);
    if (missed != 1)
        fail_msg("%zu wishes are missed", missed);
    char says[64];
    snprintf(says, sizeof says, "1 of the %zu wishes for \"Probe\" is missed", r->wish_count);
    assert_string_equal(error.text, says);
    wf_recipe_free(r);
    wf_target_free(t);
}

static void without_a_yeast_none_is_wished(void **state)
{
    struct wf_target *t = read_probe();
    struct wf_recipe *r = recipe_of(BASE, BITTER "," LATE, "");
    (void)state;
    assert_int_equal(wf_recipe_check(r, t, catalogue, 1, &error), WF_OK);
    assert_null(find_wish(r, "a yeast that suits"));
    wf_recipe_free(r);
    wf_target_free(t);
}

static void a_use_and_a_family_make_a_yeast_suit(void **state)
{
    struct wf_target *t = read_probe();
    const char *use[] = {"irish-ale", NULL};
    (void)state;
    struct wf_recipe *r =
        recipe_of(BASE, BITTER "," LATE,
                  "\"yeast\": {\"id\": \"own\", \"family\": \"lager\", \"attenuation\": 0.76}");
    assert_int_equal(wf_recipe_check(r, t, catalogue, 1, &error), WF_OK);
    wf_recipe_free(r);
    r = recipe_of(BASE, BITTER "," LATE,
                  "\"yeast\": {\"id\": \"irish-ale\","
                  " \"attenuation\": 0.76}");
    t->use = use;
    assert_int_equal(wf_recipe_check(r, t, catalogue, 1, &error), WF_OK);
    wf_recipe_free(r);
    wf_target_free(t);
}

/* What the file said of another day is dropped. */
static void what_a_file_says_of_itself_is_dropped(void **state)
{
    struct wf_recipe *r = read_recipe(
        "{\"recipe\": \"x\", \"status\": \"optimal\", \"malts\": [" BASE "],"
        "\"wishes\": [{\"wish\": \"colour\", \"kind\": \"beer-colour\", \"met\": false}],"
        "\"proof\": {\"goal\": \"cost\", \"value\": 1, \"bound\": 1, \"gap\": 0}}");
    (void)state;
    assert_int_equal(wf_recipe_check(r, NULL, catalogue, 1, &error), WF_OK);
    assert_int_equal(r->status, WF_RECIPE_UNPROVED);
    assert_int_equal(r->wish_count, 0);
    assert_int_equal(r->proof_count, 0);
    wf_recipe_free(r);
}

/* What solve gives meets all that it was to meet, wish by wish as solve tells them. */
static void what_is_solved_checks_out(void **state)
{
    const struct wf_solve_options o = {.today = WF_NO_DATE};
    struct wf_brewhouse b;
    struct wf_store *shop;
    (void)state;
    wf_error_clear(&error);
    wf_brewhouse_default(WF_UNITS_METRIC, &b);
    assert_int_equal(wf_store_sample(catalogue, &shop, &error), WF_OK);
    for (size_t i = 0; i < wf_target_builtin_count(); i += 9) {
        struct wf_target *t;
        struct wf_recipe *r, *again;
        char *text;
        assert_int_equal(wf_target_builtin(i, catalogue, &t, &error), WF_OK);
        assert_int_equal(wf_solve(t, shop, &b, &o, &r, &error), WF_OK);
        assert_int_equal(wf_report_recipe_json(r, &text, &error), WF_OK);
        again = read_recipe(text);
        if (wf_recipe_check(again, t, catalogue, b.step_hop_g, &error) != WF_OK)
            fail_msg("%s: %s", t->id, error.text);
        assert_int_equal(again->wish_count, r->wish_count);
        for (size_t k = 0; k < r->wish_count; k++) {
            assert_string_equal(again->wishes[k].wish, r->wishes[k].wish);
            assert_close(again->wishes[k].got, r->wishes[k].got, 1e-9);
        }
        wf_text_release(text);
        wf_recipe_free(again);
        wf_recipe_free(r);
        wf_target_free(t);
    }
    wf_store_free(shop);
}

/* ---- Compare --------------------------------------------------------------------------------- */

static void two_recipes_are_set_side_by_side(void **state)
{
    struct wf_comparison *c;
    struct wf_recipe *a = recipe_of(
        BASE ", {\"id\": \"crystal-40\", \"kg\": 0.2}, {\"id\": \"crystal-40\", \"kg\": 0.4}",
        LATE ", {\"id\": \"saaz\", \"g\": 5, \"at\": \"10 min\"},"
             "{\"id\": \"citra\", \"g\": 20, \"at\": \"dry 3 days\"}",
        "");
    struct wf_recipe *b = read_recipe(
        "{\"recipe\": \"y\", \"batch_l\": 40, \"malts\": [{\"id\": \"vienna-malt\", \"kg\": 9},"
        "{\"id\": \"pilsner-malt\", \"kg\": 1}], \"hops\": ["
        "{\"id\": \"citra\", \"g\": 60, \"at\": \"dry 5 days\"},"
        "{\"id\": \"saaz\", \"g\": 40, \"at\": \"15 min\"},"
        "{\"id\": \"saaz\", \"g\": 8, \"at\": \"first wort\"}]}");
    (void)state;
    assert_int_equal(wf_compare(a, b, &c, &error), WF_OK);
    assert_int_equal(c->malt_count, 3);
    assert_string_equal(c->malts[0].id, "vienna-malt"); /* 90 % of the second */
    assert_close(c->malts[0].kg[0], 0, 0);
    assert_close(c->malts[0].share[1], 0.9, 1e-12);
    assert_string_equal(c->malts[1].id, "pilsner-malt");
    assert_close(c->malts[1].kg[0], 4.4, 1e-12);
    assert_close(c->malts[1].kg[1], 1, 1e-12);
    assert_string_equal(c->malts[2].id, "crystal-40");
    assert_close(c->malts[2].kg[0], 0.6, 1e-12);
    assert_close(c->malts[2].share[0], 0.12, 1e-12);
    assert_int_equal(c->hop_count, 4); /* first wort, 15 min, 10 min, dry */
    assert_int_equal(c->hops[0].use, WF_HOP_FIRST_WORT);
    assert_close(c->hops[1].minutes, 15, 0);
    assert_close(c->hops[2].grams[0], 25, 1e-12);
    assert_close(c->hops[2].ibu[0], a->hops[0].ibu + a->hops[1].ibu, 1e-12);
    assert_close(c->hops[2].grams[1], 0, 0);
    assert_close(c->hops[3].dose[0], 1, 1e-12);
    assert_close(c->hops[3].dose[1], 1.5, 1e-12);
    wf_comparison_free(c);
    wf_recipe_free(a);
    wf_recipe_free(b);
}

/* ---- Memory ---------------------------------------------------------------------------------- */

static enum wf_status check_and_compare(void *data, struct wf_error *e)
{
    const struct wf_target *t = data;
    static const char text[] = "{\"recipe\": \"x\", \"malts\": [" BASE
                               ", {\"id\": \"vienna-malt\", \"kg\": 1}], \"hops\": [" LATE
                               ", {\"id\": \"perle\", \"g\": 9, \"at\": \"60 min\"}], " YEAST "}";
    struct wf_recipe *r;
    struct wf_comparison *c = NULL;
    char *out = NULL;
    const struct wf_report_style style = {WF_UNITS_METRIC, false};
    enum wf_status status = wf_recipe_parse("r", text, strlen(text), NULL, catalogue, &r, e);
    if (status == WF_OK)
        status = wf_recipe_check(r, t, catalogue, 1, e);
    if (status == WF_NO_RECIPE)
        status = wf_report_check_text(r, t->name, &style, &out, e);
    wf_text_release(out);
    out = NULL;
    if (status == WF_OK)
        status = wf_compare(r, r, &c, e);
    if (status == WF_OK)
        status = wf_report_compare_text(c, &style, &out, e);
    wf_text_release(out);
    out = NULL;
    if (status == WF_OK)
        status = wf_report_compare_json(c, &out, e);
    wf_text_release(out);
    wf_comparison_free(c);
    wf_recipe_free(r);
    return status;
}

static void memory_may_run_out(void **state)
{
    struct wf_target *t = read_probe();
    (void)state;
    check_out_of_memory(check_and_compare, t, 60, 1);
    wf_target_free(t);
}

int main(void)
{
    static const struct CMUnitTest others[] = {
        cmocka_unit_test(wishes_met_are_told),
        cmocka_unit_test(without_a_yeast_none_is_wished),
        cmocka_unit_test(a_use_and_a_family_make_a_yeast_suit),
        cmocka_unit_test(what_a_file_says_of_itself_is_dropped),
        cmocka_unit_test(what_is_solved_checks_out),
        cmocka_unit_test(two_recipes_are_set_side_by_side),
        cmocka_unit_test(memory_may_run_out),
    };
    struct CMUnitTest tests[COUNT_OF(others) + COUNT_OF(faults)];
    memcpy(tests, others, sizeof others);
    for (size_t i = 0; i < COUNT_OF(faults); i++)
        tests[COUNT_OF(others) + i] = (struct CMUnitTest){.name = faults[i].wish,
                                                          .test_func = a_fault_is_a_wish_missed,
                                                          .initial_state = &faults[i]};
    return _cmocka_run_group_tests("check", tests, COUNT_OF(tests), set_up, tear_down) != 0;
}
