/*
 * A recipe as a target: malts beyond their usual share, the same lot on two lines, and a stand that
 * nothing goes into. Each recipe meets its own target, and to revise nothing changes nothing.
 */
#include "support/test.h"
#include "support/with_catalogue.h"

#include "wortfit/wortfit.h"

static struct wf_recipe *read_text(const char *text)
{
    struct wf_recipe *r = NULL;
    wf_error_clear(&error);
    if (wf_recipe_parse("r.json", text, strlen(text), NULL, catalogue, &r, &error) != WF_OK)
        fail_msg("%s", error.text);
    return r;
}

static struct wf_target *target_of(const struct wf_recipe *r)
{
    struct wf_target *t = NULL;
    if (wf_recipe_target(r, 1, &t, &error) != WF_OK)
        fail_msg("%s", error.text);
    return t;
}

/* The figures of a recipe that was revised by no wish at all, on a scale that weighs it as it is.
 */
static void check_revised_is_the_same(const struct wf_recipe *r)
{
    struct wf_store *own = NULL;
    struct wf_revised found;
    struct wf_revision none;
    struct wf_brewhouse b;
    const struct wf_solve_options o = {.today = WF_NO_DATE};
    wf_revision_none(&none);
    wf_brewhouse_default(WF_UNITS_METRIC, &b);
    b.step_malt_kg = b.step_specialty_kg = b.least_malt_kg = 0.005;
    b.step_hop_g = b.least_hop_g = 1;
    assert_int_equal(wf_recipe_lots(r, NULL, &own, &error), WF_OK);
    if (wf_recipe_revise(r, &none, own, &b, &o, 0, &found, &error) != WF_OK)
        fail_msg("%s", error.text);
    const struct wf_recipe *is = found.found->list[0].recipe;
    assert_close(wf_recipe_change(r, is), 0, 1e-9);
    assert_close(is->predicted.og, r->predicted.og, 1e-9);
    assert_close(is->predicted.srm, r->predicted.srm, 1e-9);
    wf_revised_clear(&found);
    wf_store_free(own);
}

/* 4 kg of pale malt and 1 + 1 kg of a dark caramel malt that is seldom over a tenth: a third, so up
 * to a tenth of that more. */
static void more_than_usual_may_stay(void **state)
{
    struct wf_recipe *r =
        read_text("{\"recipe\": \"r\", \"malts\": ["
                  "{\"id\": \"crystal-60\", \"weight\": \"1 kg\"},"
                  "{\"id\": \"pale-ale-malt-british\", \"weight\": \"4 kg\"},"
                  "{\"id\": \"crystal-60\", \"weight\": \"1 kg\"}],"
                  " \"hops\": [{\"id\": \"magnum\", \"weight\": \"20 g\", \"at\": \"60 min\"}]}");
    struct wf_target *t = target_of(r);
    (void)state;
    assert_true(r->malts[0].usual_most < 1.0 / 3);
    assert_int_equal(t->rule_count, 1);
    assert_string_equal(t->rules[0].who.ids[0], "crystal-60");
    assert_null(t->rules[0].who.ids[1]);
    assert_close(t->rules[0].share.high, 1.1 / 3, 1e-12);
    assert_true(t->rules[0].least < 0 && t->rules[0].most < 0);
    check_revised_is_the_same(r);
    wf_target_free(t);
    wf_recipe_free(r);
}

/* All of the grist: there is no more than all. */
static void all_of_the_grist_is_the_most(void **state)
{
    struct wf_recipe *r =
        read_text("{\"recipe\": \"r\", \"malts\": [{\"id\": \"munich-malt-dark\", \"weight\": "
                  "\"5 kg\", \"usual_most\": \"95 %\"}],"
                  " \"hops\": [{\"id\": \"magnum\", \"weight\": \"20 g\", \"at\": \"60 min\"}]}");
    struct wf_target *t = target_of(r);
    (void)state;
    assert_int_equal(t->rule_count, 1);
    assert_close(t->rules[0].share.high, 1, 0);
    check_revised_is_the_same(r);
    wf_target_free(t);
    wf_recipe_free(r);
}

/* What is left standing hot gets more of its early hops' bitterness, hops or none. */
static void a_bare_stand_stays(void **state)
{
    static const char text[] =
        "{\"recipe\": \"r\", %s \"malts\": ["
        "{\"id\": \"pale-ale-malt-british\", \"weight\": \"4 kg\"}],"
        " \"hops\": [{\"id\": \"magnum\", \"weight\": \"20 g\", \"at\": \"60 min\"}]}";
    char with[400], without[400];
    (void)state;
    snprintf(with, sizeof with, text, "\"stand\": {\"temperature_c\": 85, \"minutes\": 30},");
    snprintf(without, sizeof without, text, "");
    struct wf_recipe *r = read_text(with), *bare = read_text(without);
    struct wf_target *t = target_of(r), *plain = target_of(bare);
    assert_true(r->predicted.ibu > bare->predicted.ibu);
    assert_int_equal(plain->slot_count, 1);
    assert_int_equal(t->slot_count, 2);
    assert_int_equal(t->slots[1].use, WF_HOP_STAND);
    assert_close(t->slots[1].minutes, 30, 0);
    assert_close(t->slots[1].celsius, 85, 0);
    assert_false(t->slots[1].dosed);
    check_revised_is_the_same(r);
    wf_target_free(plain);
    wf_target_free(t);
    wf_recipe_free(bare);
    wf_recipe_free(r);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(more_than_usual_may_stay),
        cmocka_unit_test(all_of_the_grist_is_the_most),
        cmocka_unit_test(a_bare_stand_stays),
    };
    return cmocka_run_group_tests(tests, set_up, tear_down);
}
