/*
 * What binds a recipe, against enumeration: tiny problems, where each wish is loosened, each stock
 * added to, each greatest share lifted and each lot of a shop added, one at a time, by this test's
 * own hand; and the best cost of each is found by trying every weight. What is told must be the
 * difference, and what is not told must save nothing.
 */
#include "support/test.h"

#include "support/brute.h"
#include "support/generate_parts.h"
#include "support/memory.h"
#include "support/solved.h"

#include "wortfit/worth.h"

#define CASES      PART_OF(40)
#define SHOP_CASES PART_OF(12)
#define CENT       0.01
#define EASES_MOST 80

static struct {
    size_t cases, leans, wishes, shares, stocks, shop, silent;
} seen;

struct row {
    uint64_t seed;
    char name[32];
};

/* Every other problem is without rules, so that usual greatest shares bind. */
static struct gen *make(uint64_t s)
{
    const struct gen_options o = {.seed = s,
                                  .malts = 3 + s % 2,
                                  .hops = 2,
                                  .yeasts = s % 2,
                                  .slots = 1 + s % 2,
                                  .scale = GEN_TINY,
                                  .planted = true,
                                  .tight = s % 4 != 0,
                                  .aims = s % 3 == 0,
                                  .fermented = true};
    struct gen *g = gen_make(&o);
    if (s / 2 % 2 == 1)
        g->target.rule_count = 0;
    return g;
}

/* ---- Making one thing easier, by hand -------------------------------------------------------- */

struct change {
    enum wf_lean_kind kind;
    const char *what;
    bool high;
    double *at; /* what is changed, or: */
    int *count;
    double to;
};

struct changes {
    struct change list[EASES_MOST];
    size_t count;
};

/* The generator's lists are its own to write to. */
static void *writable(const void *p)
{
    return (void *)(uintptr_t)p;
}

static void add(struct changes *c, struct change change)
{
    assert_true(c->count < EASES_MOST && change.what != NULL);
    c->list[c->count++] = change;
}

static void add_range(struct changes *c, const char *what, struct wf_range *r, double notch,
                      double least, double most)
{
    if (isfinite(r->low) && r->low > least)
        add(c, (struct change){.what = what, .at = &r->low, .to = fmax(least, r->low - notch)});
    if (isfinite(r->high) && r->high < most)
        add(c, (struct change){
                   .what = what, .high = true, .at = &r->high, .to = fmin(most, r->high + notch)});
}

static void add_figures(struct gen *g, struct changes *c)
{
    struct wf_target *t = &g->target;
    add_range(c, "original gravity", &t->og, 0.001, 1.002, 1.15);
    add_range(c, "colour", &t->colour, 1, 0, 100);
    add_range(c, "bitterness ratio", &t->ratio, 0.02, 0, 5);
    add_range(c, "bitterness", &t->bitterness, 1, 0, 200);
    if (g->store.yeast_count > 0) {
        add_range(c, "final gravity", &t->fg, 0.001, 0.98, 1.1);
        add_range(c, "alcohol", &t->abv, 0.002, 0, 0.2);
    }
    if (t->diastatic > 0)
        add(c, (struct change){.what = "diastatic power",
                               .at = &t->diastatic,
                               .to = fmax(0, t->diastatic - 5)});
}

static void add_rules(struct gen *g, struct changes *c)
{
    for (size_t i = 0; i < g->target.rule_count; i++) {
        struct wf_rule *rule = writable(&g->target.rules[i]);
        const char *number = gen_text(g, "number of %s", rule->words);
        add_range(c, gen_text(g, "share of %s", rule->words), &rule->share, 0.01, 0, 1);
        if (rule->least > 0)
            add(c, (struct change){.what = number, .count = &rule->least, .to = rule->least - 1});
        if (rule->most >= 0)
            add(c, (struct change){
                       .what = number, .high = true, .count = &rule->most, .to = rule->most + 1});
    }
}

static void add_words(struct gen *g, struct changes *c)
{
    for (size_t i = 0; i < g->target.wish_count; i++) {
        struct wf_word_wish *w = writable(&g->target.wishes[i]);
        add_range(c, gen_text(g, "%s character", wf_word_name(w->word)), &w->index, 0.25, 0, 100);
    }
}

static void add_lots(struct gen *g, struct changes *c)
{
    for (size_t i = 0; i < g->store.malt_count; i++) {
        struct wf_malt *m = &g->store.malts[i];
        double most = isfinite(m->most) ? m->most : m->usual_most;
        bool ruled = false; /* then the rule sets the greatest share: that is looked at above */
        for (size_t k = 0; k < g->target.rule_count; k++)
            ruled = ruled || wf_malt_set_has(&g->target.rules[k].who, m);
        if (isfinite(m->have_kg))
            add(c,
                (struct change){WF_LEAN_STOCK, m->name, true, &m->have_kg, NULL, m->have_kg + 1});
        if (!ruled && most < 1)
            add(c, (struct change){WF_LEAN_SHARE, m->name, true, &m->most, NULL,
                                   fmin(1, most + 0.01)});
    }
    for (size_t i = 0; i < g->store.hop_count; i++) {
        struct wf_hop *h = &g->store.hops[i];
        if (isfinite(h->have_g))
            add(c,
                (struct change){WF_LEAN_STOCK, h->name, true, &h->have_g, NULL, h->have_g + 100});
    }
}

/* ---- Best costs ------------------------------------------------------------------------------ */

/* The best cost lies between the two: what a solver may take for a recipe by its tolerance, and
 * what surely is one. */
struct best {
    double least, most;
};

static struct best best_of(struct gen *g)
{
    struct brute b;
    brute_search(g, &b);
    return (struct best){b.best[WF_GOAL_COST][BRUTE_PERHAPS], b.best[WF_GOAL_COST][BRUTE_SURE]};
}

static struct best best_changed(struct gen *g, const struct change *change)
{
    double at = change->at != NULL ? *change->at : 0;
    int count = change->count != NULL ? *change->count : 0;
    if (change->at != NULL)
        *change->at = change->to;
    if (change->count != NULL)
        *change->count = (int)change->to;
    struct best best = best_of(g);
    if (change->at != NULL)
        *change->at = at;
    if (change->count != NULL)
        *change->count = count;
    return best;
}

static const struct wf_lean *told(const struct wf_worth *w, const struct change *change)
{
    for (size_t i = 0; i < w->lean_count; i++) {
        const struct wf_lean *lean = &w->leans[i];
        double to = lean->dimension == WF_DIM_MASS && fabs(lean->to - change->to) > 1e-9
                        ? 1000 * lean->to /* hops */
                        : lean->to;
        if (lean->kind == change->kind && strcmp(lean->what, change->what) == 0 &&
            lean->high == change->high && fabs(to - change->to) < 1e-9)
            return lean;
    }
    return NULL;
}

/* ---- Checks ---------------------------------------------------------------------------------- */

static double room_of(double value)
{
    return 2 * solved_room(WF_GOAL_COST, value);
}

/* `before` and `after` leave the saving between two figures. */
static void check_saving(const struct gen *g, const struct solved *s, const struct wf_lean *lean,
                         struct best before, struct best after)
{
    double room = room_of(before.most);
    double least = before.least - after.most, most = before.most - after.least;
    if (lean == NULL) {
        assert_case(g, s, least < CENT + room);
        seen.silent++;
        return;
    }
    assert_case(g, s, lean->saves >= CENT - 1e-6);
    assert_case(g, s, lean->saves >= least - room && lean->saves <= most + room);
    assert_case(g, s, lean->least <= most + 1e-6);
    assert_case(g, s, lean->most >= least - 1e-6);
    assert_case(g, s, lean->least <= lean->saves && lean->saves <= lean->most);
    seen.leans++;
}

static void count_kinds(const struct wf_worth *w)
{
    for (size_t i = 0; i < w->lean_count; i++) {
        seen.wishes += w->leans[i].kind == WF_LEAN_WISH;
        seen.shares += w->leans[i].kind == WF_LEAN_SHARE;
        seen.stocks += w->leans[i].kind == WF_LEAN_STOCK;
        seen.shop += w->leans[i].kind == WF_LEAN_SHOP;
        assert_true(i == 0 || w->leans[i - 1].saves >= w->leans[i].saves);
    }
}

static enum wf_status add_worth(struct gen *g, const struct wf_store *shop, struct solved *s)
{
    const struct wf_solve_options o = {.today = GEN_TODAY};
    return wf_recipe_add_worth(s->recipe, &g->target, &g->store, &g->brewhouse, &o, shop,
                               &s->error);
}

static void one_case(void **state)
{
    const struct row *row = *state;
    const enum wf_goal goal = WF_GOAL_COST;
    struct gen *g = make(row->seed);
    struct solved s;
    static struct changes changes;
    changes.count = 0;
    solved_make(g, &goal, 1, 0, &s);
    if (s.status == WF_NO_RECIPE &&
        g->target.rule_count == 0) { /* a rule had lifted a greatest share */
        solved_free(&s);
        gen_free(g);
        return;
    }
    assert_solved(g, &s, goal);
    assert_case(g, &s, add_worth(g, NULL, &s) == WF_OK);
    assert_case(g, &s, s.recipe->worth->untried == 0 && !s.recipe->worth->shopped);
    add_figures(g, &changes);
    add_rules(g, &changes);
    add_words(g, &changes);
    add_lots(g, &changes);
    struct best before = best_of(g);
    for (size_t i = 0; i < changes.count; i++)
        check_saving(g, &s, told(s.recipe->worth, &changes.list[i]), before,
                     best_changed(g, &changes.list[i]));
    count_kinds(s.recipe->worth);
    seen.cases++;
    solved_free(&s);
    gen_free(g);
}

/* ---- A shop ---------------------------------------------------------------------------------- */

#define SHOP_MALTS 5

/* Another problem's malts and hops under names of their own. */
static struct wf_store shop_for(struct gen *g)
{
    const struct gen_options o = {.seed = g->options.seed + 1000,
                                  .malts = SHOP_MALTS,
                                  .hops = 2,
                                  .slots = 1,
                                  .scale = GEN_TINY,
                                  .planted = true};
    struct gen *other = gen_make(&o);
    struct wf_store shop = {.name = "shop", .note = "invented", .malt_count = SHOP_MALTS};
    shop.malts = gen_room(g, SHOP_MALTS, sizeof *shop.malts);
    for (size_t i = 0; i < SHOP_MALTS; i++) {
        struct wf_malt *m = &shop.malts[i];
        *m = other->store.malts[i];
        m->id = m->name = gen_text(g, "shop-%zu", i);
        m->of = NULL;
        m->price_per_kg = 0.5 + 0.2 * (double)i;
        m->pack_kg = (double)NAN;
        m->have_kg = fmin(m->have_kg, 1.5); /* few weights to try */
        m->allergens = m->source = "";
    }
    gen_free(other);
    return shop;
}

static struct best best_with(struct gen *g, const struct wf_malt *lot)
{
    struct gen more = *g;
    size_t count = g->store.malt_count;
    more.store.malts = gen_room(g, count + 1, sizeof *more.store.malts);
    memcpy(more.store.malts, g->store.malts, count * sizeof *more.store.malts);
    more.store.malts[count] = *lot;
    more.store.malt_count = count + 1;
    struct best best = best_of(&more);
    g->arena = more.arena;
    return best;
}

/* The best three are told, and no other saves more than the least of them. */
static void one_shop(void **state)
{
    const struct row *row = *state;
    const enum wf_goal goal = WF_GOAL_COST;
    struct gen *g = make(row->seed);
    struct wf_store shop = shop_for(g);
    struct solved s;
    solved_make(g, &goal, 1, 0, &s);
    assert_case(g, &s, add_worth(g, &shop, &s) == WF_OK);
    const struct wf_worth *w = s.recipe->worth;
    struct best before = best_of(g);
    double room = room_of(before.most), least_told = INFINITY;
    size_t found = 0;
    for (size_t i = 0; i < w->lean_count; i++) {
        if (w->leans[i].kind != WF_LEAN_SHOP)
            continue;
        found++;
        least_told = fmin(least_told, w->leans[i].saves);
    }
    assert_case(g, &s, w->shopped && strcmp(w->shop_note, "invented") == 0);
    assert_case(g, &s, found <= WF_SHOP_LEANS_MOST);
    for (size_t i = 0; i < SHOP_MALTS; i++) {
        const struct wf_lean *lean = NULL;
        struct best after = best_with(g, &shop.malts[i]);
        for (size_t k = 0; k < w->lean_count; k++)
            if (w->leans[k].kind == WF_LEAN_SHOP && strcmp(w->leans[k].id, shop.malts[i].id) == 0)
                lean = &w->leans[k];
        if (lean != NULL)
            assert_close(lean->price, shop.malts[i].price_per_kg, 0);
        if (lean == NULL && found == WF_SHOP_LEANS_MOST)
            assert_case(g, &s, before.least - after.most <= least_told + room);
        else
            check_saving(g, &s, lean, before, after);
    }
    count_kinds(w);
    solved_free(&s);
    gen_free(g);
}

static void cases_were_telling(void **state)
{
    (void)state;
    print_message("%zu problems: %zu leans (%zu wishes, %zu shares, %zu stocks, %zu of a shop), "
                  "%zu that save nothing\n",
                  seen.cases, seen.leans, seen.wishes, seen.shares, seen.stocks, seen.shop,
                  seen.silent);
    assert_true(seen.wishes >= CASES && seen.stocks >= CASES / 8 && seen.shop >= SHOP_CASES / 2 &&
                seen.cases * 10 >= CASES * 9);
    assert_true(seen.silent >= 3 * CASES);
}

/* ---- Limits ---------------------------------------------------------------------------------- */

static void only_of_a_recipe_that_meets_its_wishes(void **state)
{
    (void)state;
    const enum wf_goal goal = WF_GOAL_COST;
    struct gen *g = make(1);
    struct solved s;
    g->target.colour = (struct wf_range){90, 91, (double)NAN};
    solved_make(g, &goal, 1, 0, &s);
    assert_int_equal(s.status, WF_NO_RECIPE);
    assert_non_null(s.recipe);
    assert_int_equal(add_worth(g, NULL, &s), WF_BAD_INPUT);
    assert_null(s.recipe->worth);
    solved_free(&s);
    gen_free(g);
}

/* A window with an aim is the measure of closeness, so that it is left as it is. */
static void other_goals(void **state)
{
    (void)state;
    static const enum wf_goal goals[] = {WF_GOAL_CLOSEST, WF_GOAL_FEWEST, WF_GOAL_USE_UP};
    for (size_t k = 0; k < COUNT_OF(goals); k++) {
        struct gen *g = make(3);
        struct solved s;
        const struct wf_solve_options o = {
            .goals = {goals[k]}, .goal_count = 1, .today = GEN_TODAY};
        solved_make(g, &goals[k], 1, 0, &s);
        assert_int_equal(
            wf_recipe_add_worth(s.recipe, &g->target, &g->store, &g->brewhouse, &o, NULL, &s.error),
            WF_OK);
        assert_int_equal(s.recipe->worth->goal, goals[k]);
        for (size_t i = 0; i < s.recipe->worth->lean_count; i++) {
            const struct wf_lean *lean = &s.recipe->worth->leans[i];
            assert_true(goals[k] != WF_GOAL_CLOSEST || strcmp(lean->what, "colour") != 0);
            assert_true(goals[k] != WF_GOAL_FEWEST || lean->saves > 0.99);
        }
        solved_free(&s);
        gen_free(g);
    }
}

static void cancelled(void **state)
{
    (void)state;
    const enum wf_goal goal = WF_GOAL_COST;
    volatile bool stop = true;
    const struct wf_solve_options o = {.today = GEN_TODAY, .cancel = &stop};
    struct gen *g = make(1);
    struct solved s;
    solved_make(g, &goal, 1, 0, &s);
    assert_int_equal(
        wf_recipe_add_worth(s.recipe, &g->target, &g->store, &g->brewhouse, &o, NULL, &s.error),
        WF_CANCELLED);
    assert_null(s.recipe->worth);
    solved_free(&s);
    gen_free(g);
}

static void hardly_any_time(void **state)
{
    (void)state;
    const enum wf_goal goal = WF_GOAL_COST;
    const struct wf_solve_options o = {.today = GEN_TODAY, .seconds = 1e-9};
    struct gen *g = make(1);
    struct solved s;
    solved_make(g, &goal, 1, 0, &s);
    assert_int_equal(
        wf_recipe_add_worth(s.recipe, &g->target, &g->store, &g->brewhouse, &o, NULL, &s.error),
        WF_OK);
    assert_int_equal(s.recipe->worth->tried, 0);
    assert_int_equal(s.recipe->worth->lean_count, 0);
    assert_true(s.recipe->worth->untried > 10);
    solved_free(&s);
    gen_free(g);
}

/* Searches that come to no end: their things count as not looked at, or are told as far as they are
 * known. */
static void short_searches(void **state)
{
    (void)state;
    const enum wf_goal goal = WF_GOAL_COST;
    const struct gen_options hard = {.seed = 3,
                                     .malts = 200,
                                     .hops = 30,
                                     .yeasts = 2,
                                     .slots = 4,
                                     .scale = GEN_FINE,
                                     .planted = true,
                                     .tight = true,
                                     .fermented = true};
    const struct wf_solve_options o = {.today = GEN_TODAY, .seconds = 0.1};
    struct gen *g = gen_make(&hard);
    struct solved s;
    solved_make(g, &goal, 1, 1, &s);
    assert_solved(g, &s, goal);
    assert_case(g, &s,
                wf_recipe_add_worth(s.recipe, &g->target, &g->store, &g->brewhouse, &o, NULL,
                                    &s.error) == WF_OK);
    const struct wf_worth *w = s.recipe->worth;
    assert_case(g, &s, w->tried > 0 && w->untried > 0);
    for (size_t i = 0; i < w->lean_count; i++)
        assert_case(g, &s, w->leans[i].least > 0 && w->leans[i].most >= w->leans[i].saves);
    solved_free(&s);
    gen_free(g);
}

struct memory {
    struct gen *g;
    struct solved s;
    struct wf_store shop;
};

static enum wf_status worth_of(void *data, struct wf_error *e)
{
    struct memory *m = data;
    const struct wf_solve_options o = {.today = GEN_TODAY};
    enum wf_status status = wf_recipe_add_worth(m->s.recipe, &m->g->target, &m->g->store,
                                                &m->g->brewhouse, &o, &m->shop, e);
    assert_true((status == WF_OK) == (m->s.recipe->worth != NULL));
    return status;
}

static void out_of_memory(void **state)
{
    (void)state;
    const enum wf_goal goal = WF_GOAL_COST;
    struct memory m = {.g = make(2)};
    m.shop = shop_for(m.g);
    solved_make(m.g, &goal, 1, 0, &m.s);
    check_memory_is_told(worth_of, &m, 500, 61);
    solved_free(&m.s);
    gen_free(m.g);
}

int main(void)
{
    static const struct CMUnitTest last[] = {
        cmocka_unit_test(cases_were_telling),
        cmocka_unit_test(only_of_a_recipe_that_meets_its_wishes),
        cmocka_unit_test(other_goals),
        cmocka_unit_test(cancelled),
        cmocka_unit_test(hardly_any_time),
        cmocka_unit_test(short_searches),
        cmocka_unit_test(out_of_memory),
    };
    static struct row rows[CASES + SHOP_CASES];
    static struct CMUnitTest tests[COUNT_OF(rows) + COUNT_OF(last)];
    for (size_t i = 0; i < COUNT_OF(rows); i++) {
        bool shop = i >= CASES;
        rows[i].seed = shop ? i + 1 - CASES : i + 1;
        snprintf(rows[i].name, sizeof rows[i].name, "%s %llu", shop ? "shop" : "problem",
                 (unsigned long long)rows[i].seed);
        tests[i] = (struct CMUnitTest){.name = rows[i].name,
                                       .test_func = shop ? one_shop : one_case,
                                       .initial_state = &rows[i]};
    }
    memcpy(tests + COUNT_OF(rows), last, sizeof last);
    return _cmocka_run_group_tests("worth", tests, COUNT_OF(tests), NULL, NULL) != 0;
}
