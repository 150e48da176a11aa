/* The largest batch that a store makes: by hand where one lot is the limit, and against solving
 * every batch of the grid. */
#include "support/memory.h"
#include "support/test.h"

#include "wortfit/wortfit.h"

#include <stdbool.h>

static struct wf_catalogue *catalogue;
static struct wf_brewhouse brewhouse;
static struct wf_error error;
static const struct wf_solve_options plain = {.today = WF_NO_DATE};

static int set_up(void **state)
{
    (void)state;
    wf_brewhouse_default(WF_UNITS_METRIC, &brewhouse);
    return wf_catalogue_read(&catalogue, &error) == WF_OK ? 0 : -1;
}

static int tear_down(void **state)
{
    (void)state;
    wf_catalogue_free(catalogue);
    return 0;
}

/* A target and a store, read from text. */
struct wish {
    struct wf_target *t;
    struct wf_store *s;
};

static struct wish read_wish(const char *target, const char *store)
{
    struct wish w;
    wf_error_clear(&error);
    if (wf_target_parse("t.json", target, strlen(target), catalogue, &w.t, &error) != WF_OK ||
        wf_store_parse("s.json", store, strlen(store), catalogue, &w.s, &error) != WF_OK)
        fail_msg("%s", error.text);
    return w;
}

static void wish_free(struct wish *w)
{
    wf_target_free(w->t);
    wf_store_free(w->s);
}

static double largest(const struct wish *w, double step_l)
{
    double litres;
    wf_error_clear(&error);
    if (wf_solve_largest(w->t, w->s, &brewhouse, &plain, step_l, &litres, &error) != WF_OK)
        fail_msg("%s", error.text);
    return litres;
}

static bool can_be(const struct wish *w, double litres)
{
    struct wf_brewhouse b = brewhouse;
    struct wf_recipe *r;
    b.batch_l = litres;
    b.batch_given = true;
    wf_error_clear(&error);
    enum wf_status status = wf_solve(w->t, w->s, &b, &plain, &r, &error);
    wf_recipe_free(r);
    if (status != WF_OK && status != WF_NO_RECIPE)
        fail_msg("%g L: %s", litres, error.text);
    return status == WF_OK;
}

/* ---- By hand --------------------------------------------------------------------------------- */

/* All that there is of one malt, at the lowest gravity that is wanted. */
static void malt_is_the_limit(void **state)
{
    struct wish w = read_wish("{\"target\": \"t\", \"og\": \"1.040..1.060\"}",
                              "{\"store\": \"s\", \"malts\": [{\"id\": \"pilsner-malt\","
                              " \"extract\": \"80 %\", \"moisture\": \"5 %\", \"have\": "
                              "\"6 kg\"}], \"hops\": []}");
    double per_l;
    (void)state;
    assert_int_equal(wf_extract_from_gravity(1.040, &per_l), WF_OK);
    double exact = 6 * 0.8 * 0.95 * brewhouse.efficiency / per_l;
    assert_close(largest(&w, 0.5), floor(exact / 0.5) * 0.5, 1e-9);
    assert_close(largest(&w, 0.01), floor(exact / 0.01) * 0.01, 1e-9);
    assert_close(largest(&w, 3), floor(exact / 3) * 3, 1e-9);
    wish_free(&w);
}

static void hops_are_the_limit(void **state)
{
    struct wish w = read_wish("{\"target\": \"t\", \"og\": \"1.040..1.060\", \"hops\": ["
                              "{\"at\": \"dry 3 days\", \"dose\": \"2..4 g/L\"}]}",
                              "{\"store\": \"s\", \"malts\": [{\"id\": \"pilsner-malt\"}],"
                              "\"hops\": [{\"id\": \"citra\", \"have\": \"95 g\"},"
                              "{\"id\": \"saaz\", \"have\": \"47 g\"}]}");
    (void)state;
    assert_close(largest(&w, 0.5), 47.5, 1e-9); /* a slot takes one variety */
    wish_free(&w);
}

/* ---- Against all batches --------------------------------------------------------------------- */

static void check_all_batches(const char *target, const char *store, double step_l)
{
    struct wish w = read_wish(target, store);
    double found = largest(&w, step_l), most = 0;
    for (double litres = step_l; litres <= 2 * found; litres += step_l)
        if (can_be(&w, litres))
            most = litres;
    assert_true(found > 0);
    assert_close(found, most, 1e-9);
    wish_free(&w);
}

static void no_larger_batch_has_a_recipe(void **state)
{
    static const char beer[] =
        "{\"target\": \"t\", \"og\": \"1.045..1.050\", \"colour\": \"10..14 SRM\","
        " \"bitterness\": \"28..32 IBU\", \"fg\": \"1.008..1.014\", \"grist\": ["
        "{\"class\": \"base\", \"share\": \">= 70 %\", \"most\": 1},"
        "{\"class\": \"caramel\", \"share\": \"5..15 %\"}],"
        " \"hops\": [{\"at\": \"60 min\"}, {\"at\": \"5 min\", \"dose\": \"1 g/L\"}],"
        " \"yeast\": [\"ale\"]}";
    static const char malts[] =
        "{\"store\": \"s\", \"malts\": [{\"id\": \"pilsner-malt\", \"have\": \"3.1 kg\"},"
        "{\"id\": \"two-row-malt\", \"have\": \"2.9 kg\"},"
        "{\"id\": \"munich-malt-light\", \"have\": \"650 g\"},"
        "{\"id\": \"crystal-60\", \"have\": \"300 g\"}, {\"id\": \"black-malt\"}],"
        "\"hops\": [{\"id\": \"magnum\"}, {\"id\": \"cascade\"}],"
        "\"yeasts\": [{\"id\": \"american-ale-clean\"}, {\"id\": \"irish-ale\"}]}";
    static const char hops[] =
        "{\"store\": \"s\", \"malts\": [{\"id\": \"pilsner-malt\"}, {\"id\": \"crystal-60\"},"
        "{\"id\": \"black-malt\"}], \"hops\": [{\"id\": \"magnum\", \"have\": \"8 g\"},"
        "{\"id\": \"perle\", \"have\": \"14 g\"}, {\"id\": \"saaz\", \"have\": \"17 g\"}],"
        "\"yeasts\": [{\"id\": \"american-ale-clean\"}]}";
    (void)state;
    check_all_batches(beer, malts, 0.5);
    check_all_batches(beer, hops, 0.5);
}

/* ---- No end, no start ------------------------------------------------------------------------ */

static void a_stock_without_end_sets_none(void **state)
{
    struct wish w = read_wish("{\"target\": \"t\", \"og\": \"1.050\"}",
                              "{\"store\": \"s\", \"malts\": [{\"id\": \"pilsner-malt\"}],"
                              "\"hops\": []}");
    double litres;
    (void)state;
    wf_error_clear(&error);
    assert_int_equal(wf_solve_largest(w.t, w.s, &brewhouse, &plain, 0.5, &litres, &error),
                     WF_BAD_INPUT);
    assert_true(isnan(litres));
    assert_non_null(strstr(error.text, "the stock sets no end to the batch"));
    wish_free(&w);
}

static void what_cannot_be_made_has_no_largest(void **state)
{
    struct wish pale = read_wish("{\"target\": \"t\", \"og\": \"1.050\", \"colour\": \"30 SRM\"}",
                                 "{\"store\": \"s\", \"malts\": [{\"id\": \"pilsner-malt\","
                                 " \"have\": \"5 kg\"}], \"hops\": []}");
    /* Weights of any size would do; but no whole number of malts is between 0 and 1. */
    struct wish split = read_wish("{\"target\": \"t\", \"og\": \"1.049..1.051\", \"grist\": ["
                                  "{\"class\": \"base\", \"most\": 0}]}",
                                  "{\"store\": \"s\", \"malts\": [{\"id\": \"pilsner-malt\","
                                  " \"have\": \"5 kg\"}], \"hops\": []}");
    (void)state;
    assert_true(isnan(largest(&pale, 0.5)));
    assert_true(isnan(largest(&split, 0.5)));
    wish_free(&pale);
    wish_free(&split);
}

/* Less than the least weight worth adding would be needed for a small batch. */
static void a_beer_may_have_but_large_batches(void **state)
{
    struct wish w = read_wish("{\"target\": \"t\", \"og\": \"1.049..1.051\", \"grist\": ["
                              "{\"class\": \"roast\", \"share\": \"0.2..0.4 %\"}]}",
                              "{\"store\": \"s\", \"malts\": [{\"id\": \"pilsner-malt\", \"have\":"
                              " \"20 kg\"}, {\"id\": \"black-malt\", \"have\": \"1 kg\"}],"
                              "\"hops\": []}");
    (void)state;
    double found = largest(&w, 0.5);
    assert_false(can_be(&w, 5));
    assert_true(can_be(&w, found));
    assert_false(can_be(&w, found + 0.5));
    wish_free(&w);
}

static void it_may_be_cancelled(void **state)
{
    volatile bool stop = true;
    const struct wf_solve_options o = {.today = WF_NO_DATE, .cancel = &stop};
    struct wish w = read_wish("{\"target\": \"t\", \"og\": \"1.050\"}",
                              "{\"store\": \"s\", \"malts\": [{\"id\": \"pilsner-malt\","
                              " \"have\": \"6 kg\"}], \"hops\": []}");
    double litres;
    (void)state;
    assert_int_equal(wf_solve_largest(w.t, w.s, &brewhouse, &o, 0.5, &litres, &error),
                     WF_CANCELLED);
    wish_free(&w);
}

static enum wf_status in_little_memory(void *data, struct wf_error *e)
{
    const struct wish *w = data;
    double litres;
    return wf_solve_largest(w->t, w->s, &brewhouse, &plain, 8, &litres, e);
}

static void memory_may_run_out(void **state)
{
    struct wish w = read_wish("{\"target\": \"t\", \"og\": \"1.050\", \"hops\": ["
                              "{\"at\": \"60 min\", \"dose\": \"1 g/L\"}]}",
                              "{\"store\": \"s\", \"malts\": [{\"id\": \"pilsner-malt\","
                              " \"have\": \"6 kg\"}], \"hops\": [{\"id\": \"saaz\"}],"
                              "\"yeasts\": [{\"id\": \"irish-ale\"}]}");
    (void)state;
    check_out_of_memory(in_little_memory, &w, 200, 41);
    wish_free(&w);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(malt_is_the_limit),
        cmocka_unit_test(hops_are_the_limit),
        cmocka_unit_test(no_larger_batch_has_a_recipe),
        cmocka_unit_test(a_stock_without_end_sets_none),
        cmocka_unit_test(what_cannot_be_made_has_no_largest),
        cmocka_unit_test(a_beer_may_have_but_large_batches),
        cmocka_unit_test(it_may_be_cancelled),
        cmocka_unit_test(memory_may_run_out),
    };
    return cmocka_run_group_tests(tests, set_up, tear_down) != 0;
}
