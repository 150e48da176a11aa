/*
 * Alternatives where several malts are noticed only together: a row of the search adds them up, a
 * drinker does not. Stock is what keeps each of them below what is noticed, so what can differ is
 * known beforehand.
 */
#include "support/test.h"
#include "support/with_catalogue.h"

#include "wortfit/wortfit.h"

/* 20 L of about 4.7 kg: 2 % of the grist, from which on a caramel malt is noticed, are about 94 g.
 */
#define TARGET                                                                                     \
    "{\"target\": \"t\", \"og\": \"1.046..1.050\", \"colour\": \"3..9 SRM\","                      \
    " \"bitterness\": \"24..28 IBU\", \"hops\": [{\"at\": \"60 min\"}]}"
#define STORE                                                                                      \
    "{\"store\": \"s\", \"currency\": \"EUR\", \"malts\": ["                                       \
    "{\"id\": \"pale-ale-malt-british\", \"have\": \"9 kg\", \"price\": \"1/kg\"},"                \
    "{\"id\": \"crystal-40\", \"have\": \"%s\", \"price\": \"5/kg\"},"                             \
    "{\"id\": \"crystal-60\", \"have\": \"%s\", \"price\": \"6/kg\"},"                             \
    "{\"id\": \"crystal-80\", \"have\": \"%s\", \"price\": \"7/kg\"}],"                            \
    " \"hops\": [{\"id\": \"magnum\", \"have\": \"90 g\", \"price\": \"0.05/g\"}],"                \
    " \"yeasts\": [{\"id\": \"american-ale-clean\", \"have\": 3, \"price\": \"3\"}]}"

struct row {
    const char *have[3];
    size_t noticed; /* of the three, how many there is enough of */
};

static struct wf_alternatives *find(const struct row *row, struct wf_store **s)
{
    struct wf_target *t = NULL;
    struct wf_brewhouse b;
    struct wf_alternatives *a = NULL;
    const struct wf_solve_options o = {
        .goals = {WF_GOAL_COST}, .goal_count = 1, .seconds = 60, .today = WF_NO_DATE};
    char text[1200];
    snprintf(text, sizeof text, STORE, row->have[0], row->have[1], row->have[2]);
    wf_error_clear(&error);
    wf_brewhouse_default(WF_UNITS_METRIC, &b);
    if (wf_target_parse("t", TARGET, strlen(TARGET), catalogue, &t, &error) != WF_OK ||
        wf_store_parse("s", text, strlen(text), catalogue, s, &error) != WF_OK ||
        wf_solve_alternatives(t, *s, &b, &o, 9, &a, &error) != WF_OK)
        fail_msg("%s", error.text);
    wf_target_free(t);
    return a;
}

/* The caramel malts that are noticed in a recipe. */
static size_t noticed_in(const struct wf_recipe *r)
{
    size_t n = 0;
    for (size_t i = 0; i < r->malt_count; i++)
        n += r->malts[i].class == WF_CLASS_CARAMEL && r->malts[i].share >= 0.02 * (1 - 1e-4);
    return n;
}

/* From nothing but pale malt each set of malts that can be noticed is one recipe more, and no other
 * is. */
static void a_sum_is_not_noticed(void **state)
{
    static const struct row rows[] = {
        {{"60 g", "60 g", "0 g"}, 0},    {{"60 g", "60 g", "60 g"}, 0},
        {{"60 g", "60 g", "300 g"}, 1},  {{"300 g", "60 g", "60 g"}, 1},
        {{"300 g", "300 g", "60 g"}, 2},
    };
    (void)state;
    for (size_t i = 0; i < COUNT_OF(rows); i++) {
        struct wf_store *s = NULL;
        struct wf_alternatives *a = find(&rows[i], &s);
        size_t sets = (size_t)1 << rows[i].noticed;
        if (!a->complete || a->count != sets)
            fail_msg("row %zu: %zu recipes, not %zu", i, a->count, sets);
        assert_int_equal(noticed_in(a->list[0].recipe), 0);
        for (size_t k = 1; k < a->count; k++) {
            assert_true(noticed_in(a->list[k].recipe) >= 1);
            assert_true(a->list[k].recipe->cost >= a->list[k - 1].recipe->cost * (1 - 2e-4));
        }
        wf_alternatives_free(a);
        wf_store_free(s);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {cmocka_unit_test(a_sum_is_not_noticed)};
    return cmocka_run_group_tests(tests, set_up, tear_down);
}
