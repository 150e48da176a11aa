/*
 * Searches for several recipes at their limits, and their reports: no recipe, nothing that differs,
 * hardly any time, cancelled, out of memory at every allocation.
 */
#include "support/test.h"

#include "support/generate.h"
#include "support/memory.h"
#include "wortfit/wortfit.h"

static struct gen *make(enum gen_scale scale, size_t malts)
{
    const struct gen_options o = {.seed = 3,
                                  .malts = malts,
                                  .hops = 3,
                                  .yeasts = 2,
                                  .slots = 2,
                                  .scale = scale,
                                  .planted = true,
                                  .aims = true,
                                  .fermented = true};
    return gen_make(&o);
}

static enum wf_status alternatives(const struct gen *g, const struct wf_solve_options *o,
                                   size_t wanted, struct wf_alternatives **a, struct wf_error *e)
{
    return wf_solve_alternatives(&g->target, &g->store, &g->brewhouse, o, wanted, a, e);
}

static enum wf_status trade(const struct gen *g, const struct wf_solve_options *o,
                            struct wf_trade **t, struct wf_error *e)
{
    return wf_solve_trade(&g->target, &g->store, &g->brewhouse, o, t, e);
}

/* ---- Ends ------------------------------------------------------------------------------------ */

static void none_at_all_are_wanted(void **state)
{
    const struct wf_solve_options o = {.today = GEN_TODAY, .seconds = 30};
    struct gen *g = make(GEN_TINY, 4);
    struct wf_alternatives *a;
    struct wf_recipe *r;
    (void)state;
    assert_int_equal(alternatives(g, &o, 0, &a, NULL), WF_OK);
    assert_int_equal(wf_solve(&g->target, &g->store, &g->brewhouse, &o, &r, NULL), WF_OK);
    assert_true(a->complete && a->count == 1 && a->list[0].change_count == 0);
    assert_close(a->list[0].recipe->cost, r->cost, 1e-9);
    wf_recipe_free(r);
    wf_alternatives_free(a);
    wf_alternatives_free(NULL);
    wf_trade_free(NULL);
    gen_free(g);
}

static void too_many_are_wanted(void **state)
{
    const struct wf_solve_options o = {.today = GEN_TODAY};
    struct gen *g = make(GEN_TINY, 4);
    struct wf_alternatives *a;
    struct wf_error e = {0};
    (void)state;
    assert_int_equal(alternatives(g, &o, WF_ALTERNATIVES_MOST + 1, &a, &e), WF_USAGE);
    assert_null(a);
    assert_non_null(strstr(e.text, "at most 50"));
    gen_free(g);
}

static void one_lot_of_a_kind_has_no_alternative(void **state)
{
    const struct wf_solve_options o = {.today = GEN_TODAY, .seconds = 30};
    struct gen *g = make(GEN_TINY, 4);
    struct wf_alternatives *a;
    (void)state;
    for (size_t i = 0; i < g->store.malt_count; i++)
        g->store.malts[i].of = "malt"; /* all one to the drinker */
    for (size_t i = 0; i < g->store.hop_count; i++)
        g->store.hops[i].of = "hop";
    assert_int_equal(alternatives(g, &o, 5, &a, NULL), WF_OK);
    assert_true(a->complete && a->count == 1 && a->wanted == 6);
    wf_alternatives_free(a);
    gen_free(g);
}

static void no_recipe(void **state)
{
    const struct wf_solve_options o = {.today = GEN_TODAY, .seconds = 30};
    struct gen *g = make(GEN_TINY, 4);
    struct wf_alternatives *a;
    struct wf_trade *t;
    struct wf_error e = {0};
    (void)state;
    g->target.colour = (struct wf_range){90, 91, (double)NAN}; /* darker than all of its lots */
    assert_int_equal(alternatives(g, &o, 3, &a, &e), WF_NO_RECIPE);
    assert_true(a->count == 1 && a->list[0].recipe->status == WF_RECIPE_NONE);
    assert_int_equal(trade(g, &o, &t, &e), WF_NO_RECIPE);
    assert_true(t->count == 0 && t->nearest->status == WF_RECIPE_NONE);
    wf_alternatives_free(a);
    wf_trade_free(t);
    gen_free(g);
}

static void cancelled(void **state)
{
    static const volatile bool stop = true;
    const struct wf_solve_options o = {.today = GEN_TODAY, .cancel = &stop};
    struct gen *g = make(GEN_COARSE, 30);
    struct wf_alternatives *a;
    struct wf_trade *t;
    (void)state;
    assert_int_equal(alternatives(g, &o, 3, &a, NULL), WF_CANCELLED);
    assert_int_equal(trade(g, &o, &t, NULL), WF_CANCELLED);
    assert_true(a == NULL && t == NULL);
    gen_free(g);
}

/* Each costs no less than the one before it, and no less than its bound; how many are not proved.
 */
static size_t check_order(const struct wf_alternatives *a)
{
    size_t open = 0;
    for (size_t i = 0; i < a->count; i++) {
        const struct wf_proof *p = &a->list[i].recipe->proofs[0];
        assert_true(p->bound <= p->value + 1e-9);
        if (i > 0)
            assert_true(p->value >= a->list[i - 1].recipe->proofs[0].bound - 1e-9);
        open += a->list[i].recipe->status != WF_RECIPE_OPTIMAL;
    }
    return open;
}

/* What is told in little time is true, and that it is not all is told too. */
static void hardly_any_time(void **state)
{
    struct gen *g = make(GEN_FINE, 60);
    size_t short_of = 0, unproved = 0;
    (void)state;
    for (int n = 0; n < 8; n++) {
        const struct wf_solve_options o = {.today = GEN_TODAY, .seconds = 0.005 * (1 << n)};
        struct wf_alternatives *a;
        struct wf_trade *t;
        struct wf_error e = {0};
        enum wf_status status = alternatives(g, &o, 20, &a, &e);
        assert_true(status == WF_OK || (a == NULL && strstr(e.text, "time") != NULL));
        if (a != NULL) {
            assert_true(a->count >= 1 && (a->count == 21 || !a->complete));
            short_of += !a->complete;
            unproved += check_order(a);
        }
        status = trade(g, &o, &t, &e);
        assert_true(status == WF_OK || (t == NULL && strstr(e.text, "time") != NULL));
        assert_true(t == NULL || t->count >= 1);
        wf_alternatives_free(a);
        wf_trade_free(t);
    }
    assert_true(short_of > 0 && unproved > 0);
    gen_free(g);
}

/* ---- Memory ---------------------------------------------------------------------------------- */

static enum wf_status find_alternatives(void *data, struct wf_error *e)
{
    const struct wf_solve_options o = {.today = GEN_TODAY, .seconds = 60};
    struct wf_alternatives *a;
    enum wf_status status = alternatives(data, &o, 3, &a, e);
    assert_true((status == WF_OK) == (a != NULL));
    wf_alternatives_free(a);
    return status;
}

static enum wf_status find_trade(void *data, struct wf_error *e)
{
    const struct wf_solve_options o = {.today = GEN_TODAY, .seconds = 60};
    struct wf_trade *t;
    enum wf_status status = trade(data, &o, &t, e);
    assert_true((status == WF_OK) == (t != NULL));
    wf_trade_free(t);
    return status;
}

static void memory_runs_out(void **state)
{
    struct gen *g = make(GEN_TINY, 4);
    (void)state;
    check_out_of_memory(find_alternatives, g, 500, 97);
    check_out_of_memory(find_trade, g, 500, 97);
    gen_free(g);
}

struct found {
    struct wf_alternatives *a;
    struct wf_trade *t;
};

static enum wf_status write_reports(void *data, struct wf_error *e)
{
    const struct wf_report_style s = {.units = WF_UNITS_US};
    const struct found *f = data;
    char *text[4] = {NULL};
    enum wf_status status = wf_report_alternatives_text(f->a, &s, &text[0], e);
    if (status == WF_OK)
        status = wf_report_alternatives_json(f->a, &text[1], e);
    if (status == WF_OK)
        status = wf_report_trade_text(f->t, &s, &text[2], e);
    if (status == WF_OK)
        status = wf_report_trade_json(f->t, &text[3], e);
    for (size_t i = 0; i < COUNT_OF(text); i++)
        wf_text_release(text[i]);
    return status;
}

static void memory_runs_out_in_a_report(void **state)
{
    const struct wf_solve_options o = {.today = GEN_TODAY, .seconds = 60};
    struct gen *g = make(GEN_TINY, 4);
    struct found f;
    (void)state;
    assert_int_equal(alternatives(g, &o, 3, &f.a, NULL), WF_OK);
    assert_int_equal(trade(g, &o, &f.t, NULL), WF_OK);
    assert_true(f.a->count > 1);
    check_out_of_memory(write_reports, &f, 20, 7);
    wf_alternatives_free(f.a);
    wf_trade_free(f.t);
    gen_free(g);
}

/* ---- Reports --------------------------------------------------------------------------------- */

static void expect_text(const char *text, const char *part)
{
    if (strstr(text, part) == NULL)
        fail_msg("\"%s\" is not in:\n%s", part, text);
}

/* A name from a file cannot move the cursor of a terminal. */
static void names_are_made_safe(void **state)
{
    const struct wf_change changes[] = {{.name = "A\033[2J", .comes = true, .share = 0.04},
                                        {.name = "hop", .hop = true, .comes = true, .grams = 20},
                                        {.name = "gone\007"}};
    const struct wf_solve_options o = {.today = GEN_TODAY, .seconds = 60};
    const struct wf_report_style s = {.units = WF_UNITS_METRIC};
    struct gen *g = make(GEN_TINY, 4);
    struct wf_alternatives *a;
    char *text, *json;
    (void)state;
    assert_int_equal(alternatives(g, &o, 1, &a, NULL), WF_OK);
    assert_int_equal(a->count, 2);
    a->list[1].changes = changes;
    a->list[1].change_count = COUNT_OF(changes);
    a->complete = false;
    assert_int_equal(wf_report_alternatives_text(a, &s, &text, NULL), WF_OK);
    assert_int_equal(wf_report_alternatives_json(a, &json, NULL), WF_OK);
    assert_null(strpbrk(text, "\033\007"));
    assert_null(strpbrk(json, "\033\007"));
    expect_text(text, "A?[2J 4.0 %, hop 20 g instead of gone?");
    expect_text(text, "there may be more");
    expect_text(json, "A?[2J 4.0 %, hop 20 g instead of gone?; ");
    expect_text(json, "\"complete\": false");
    wf_text_release(text);
    wf_text_release(json);
    wf_alternatives_free(a);
    gen_free(g);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(none_at_all_are_wanted),
        cmocka_unit_test(too_many_are_wanted),
        cmocka_unit_test(one_lot_of_a_kind_has_no_alternative),
        cmocka_unit_test(no_recipe),
        cmocka_unit_test(cancelled),
        cmocka_unit_test(hardly_any_time),
        cmocka_unit_test(memory_runs_out),
        cmocka_unit_test(memory_runs_out_in_a_report),
        cmocka_unit_test(names_are_made_safe),
    };
    return cmocka_run_group_tests_name("choices at their limits", tests, NULL, NULL) != 0;
}
