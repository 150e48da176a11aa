/*
 * The least change against enumeration, with the measure written once more from revise.h; a
 * recipe's own target; and revised recipes: round trips, lots that are alike, memory.
 */
#include "support/test.h"
#include "support/with_catalogue.h"

#include "support/brute.h"
#include "support/dice.h"
#include "support/memory.h"
#include "wortfit/wortfit.h"

#define CASES 120

/* ---- The measure, once more ------------------------------------------------------------------ */

struct from {
    struct wf_recipe recipe;
    struct wf_recipe_malt malts[8];
    struct wf_recipe_hop hops[12];
    double grist_kg;
};

static double scores(const double *a, const double *b, int count)
{
    double sum = 0;
    for (int i = 0; i < count; i++)
        sum += fabs(a[i] - b[i]);
    return sum / WF_CHANGE_SCORES;
}

static bool any_gone(const struct from *f)
{
    return f->malts[0].gone;
}

/* Line 0 is of a malt that no store has; it alone may be marked as gone. */
static double malt_part(const struct gen *g, const struct from *f, const struct gen_recipe *r)
{
    double unit = 1 / (0.01 * f->grist_kg), sum = f->malts[0].kg * unit + WF_CHANGE_INGREDIENT;
    for (size_t i = 0; i < g->store.malt_count; i++) {
        const struct wf_malt *lot = &g->store.malts[i];
        const struct wf_recipe_malt *line = NULL;
        double unlike = WF_CHANGE_UNLIKE;
        for (size_t k = 0; k < f->recipe.malt_count; k++) {
            const struct wf_recipe_malt *own = &f->malts[k];
            if (strcmp(own->id, lot->id) == 0)
                line = own;
            double u = WF_CHANGE_ALIKE + scores(own->character, lot->character, WF_MALT_WORD_COUNT);
            u += own->class != lot->class ? WF_CHANGE_CLASS : 0;
            if (own->gone == any_gone(f))
                unlike = fmin(unlike, u);
        }
        unlike = any_gone(f) ? unlike : fmax(1, unlike);
        if (line != NULL)
            sum += fabs(r->kg[i] - line->kg) * unit + (r->kg[i] > 0 ? 0 : WF_CHANGE_INGREDIENT);
        else if (r->kg[i] > 0)
            sum +=
                r->kg[i] * unit * unlike + WF_CHANGE_INGREDIENT * fmin(1, any_gone(f) ? unlike : 1);
    }
    return sum;
}

static double hop_part(const struct gen *g, const struct from *f, const struct gen_recipe *r)
{
    double sum = 0;
    for (size_t s = 0; s < g->target.slot_count; s++)
        for (size_t h = 0; h < g->store.hop_count; h++) {
            const struct wf_hop *lot = &g->store.hops[h];
            bool late = gen_slot_is_late(&g->target.slots[s]);
            double unit = (late ? 1 : WF_CHANGE_EARLY) / (0.1 * f->recipe.kettle.batch_l);
            double grams = r->grams[s * g->store.hop_count + h], was = 0, unlike = WF_CHANGE_UNLIKE;
            for (size_t k = 0; k < f->recipe.hop_count; k++) {
                const struct wf_recipe_hop *own = &f->hops[k];
                if (strcmp(own->id, lot->id) == 0 && (size_t)own->days == s)
                    was = own->grams;
                unlike = fmin(unlike, WF_CHANGE_ALIKE + scores(own->character, lot->character,
                                                               WF_WORD_COUNT - WF_MALT_WORD_COUNT));
            }
            if (was > 0)
                sum += fabs(grams - was) * unit + (grams > 0 ? 0 : WF_CHANGE_INGREDIENT);
            else if (grams > 0)
                sum += grams * unit * fmax(1, unlike) + WF_CHANGE_INGREDIENT;
        }
    return sum;
}

static double yeast_part(const struct gen *g, const struct from *f, const struct gen_recipe *r)
{
    if (r->yeast == GEN_NO_YEAST || f->recipe.yeast.id == NULL)
        return 0;
    const struct wf_yeast *y = &g->store.yeasts[r->yeast];
    double attenuation = (y->attenuation_low + y->attenuation_high) / 2;
    if (strcmp(y->id, f->recipe.yeast.id) == 0)
        return 0;
    bool other =
        y->family && f->recipe.yeast.family && strcmp(y->family, f->recipe.yeast.family) != 0;
    return WF_CHANGE_YEAST + 100 * fabs(attenuation - f->recipe.yeast.attenuation) +
           (other ? WF_CHANGE_FAMILY : 0);
}

/* ---- A recipe to keep close to --------------------------------------------------------------- */

static void add_malt(struct from *f, const struct wf_malt *lot, const char *id, double kg)
{
    struct wf_recipe_malt *m = &f->malts[f->recipe.malt_count++];
    *m = (struct wf_recipe_malt){.id = id,
                                 .name = id,
                                 .class = lot->class,
                                 .grain = lot->grain,
                                 .usual_most = lot->usual_most,
                                 .kg = kg};
    memcpy(m->character, lot->character, sizeof m->character);
    f->grist_kg += kg;
}

static void add_hop(struct from *f, const struct gen *g, size_t slot, size_t hop, double grams)
{
    const struct wf_hop *lot = &g->store.hops[hop];
    struct wf_recipe_hop *h = &f->hops[f->recipe.hop_count++];
    *h = (struct wf_recipe_hop){.id = lot->id,
                                .name = lot->id,
                                .addition = gen_addition(g, slot, hop),
                                .whole = lot->whole,
                                .grams = grams,
                                .days = (double)slot};
    memcpy(h->character, lot->character, sizeof h->character);
}

/* About two in three lots in it, at weights off the scale, and a malt that is in no store. */
static void make_from(struct gen *g, struct from *f)
{
    struct dice d = {g->options.seed * 77 + 5};
    struct wf_malt other = g->store.malts[0];
    *f = (struct from){.recipe = {.name = "from", .malts = f->malts, .hops = f->hops}};
    f->recipe.kettle = gen_kettle(&g->target, &g->brewhouse);
    other.grain.yield *= 0.97;
    add_malt(f, &other, "not-in-the-store", 0.3);
    f->malts[0].gone = g->options.seed % 2 == 1;
    for (size_t i = 0; i < g->store.malt_count; i++)
        if (dice_whole(&d, 0, 2) > 0)
            add_malt(f, &g->store.malts[i], g->store.malts[i].id,
                     0.037 * (double)dice_whole(&d, 1, 90));
    for (size_t s = 0; s < g->target.slot_count; s++)
        for (size_t h = 0; h < g->store.hop_count; h++)
            if (dice_whole(&d, 0, 2) == 0)
                add_hop(f, g, s, h, 0.7 * (double)dice_whole(&d, 1, 60));
    f->recipe.yeast.attenuation = f->recipe.yeast.ester = f->recipe.yeast.phenol = (double)NAN;
    if (g->store.yeast_count > 0) {
        const struct wf_yeast *y = &g->store.yeasts[g->store.yeast_count - 1];
        f->recipe.yeast.id = y->id;
        f->recipe.yeast.family = y->family;
        f->recipe.yeast.attenuation = (y->attenuation_low + y->attenuation_high) / 2;
    }
}

/* ---- Against enumeration --------------------------------------------------------------------- */

#define RANKS 8

struct hunt {
    struct gen *g;
    struct from from;
    double best[RANKS][BRUTE_SURE_COUNT];
};

static void visit(void *data, const struct gen_recipe *r, const struct verdict *v, bool sure,
                  size_t rank)
{
    struct hunt *h = data;
    double change =
        malt_part(h->g, &h->from, r) + hop_part(h->g, &h->from, r) + yeast_part(h->g, &h->from, r);
    (void)v;
    assert_true(rank < RANKS);
    h->best[rank][BRUTE_PERHAPS] = fmin(h->best[rank][BRUTE_PERHAPS], change);
    if (sure)
        h->best[rank][BRUTE_SURE] = fmin(h->best[rank][BRUTE_SURE], change);
}

static size_t solved, proved;

static void check_solution(struct hunt *h, const double best[BRUTE_SURE_COUNT])
{
    const struct wf_solve_options o = {
        .goals = {WF_GOAL_CHANGE}, .goal_count = 1, .from = &h->from.recipe, .today = GEN_TODAY};
    static struct wf_error e;
    struct wf_recipe *r = NULL;
    wf_error_clear(&e);
    enum wf_status status = wf_solve(&h->g->target, &h->g->store, &h->g->brewhouse, &o, &r, &e);
    if (status == WF_OK) {
        const struct wf_proof *p = &r->proofs[0];
        double room = p->gap > 0 ? p->gap * fmax(1, p->value) : 0.05;
        bool right = p->value >= best[BRUTE_PERHAPS] - 1e-6 &&
                     p->bound <= best[BRUTE_SURE] + 1e-6 &&
                     p->value <= best[BRUTE_SURE] + room + 1e-6;
        solved++;
        proved += r->status == WF_RECIPE_OPTIMAL;
        if (!right)
            fail_msg("seed %llu: value %.9g, bound %.9g, enumerated %.9g .. %.9g",
                     (unsigned long long)h->g->options.seed, p->value, p->bound,
                     best[BRUTE_PERHAPS], best[BRUTE_SURE]);
    } else if (status != WF_NO_RECIPE || isfinite(best[BRUTE_SURE])) {
        fail_msg("seed %llu: %s", (unsigned long long)h->g->options.seed, e.text);
    }
    wf_recipe_free(r);
}

static void least_change_is_the_enumerated_one(void **state)
{
    (void)state;
    for (uint64_t seed = 1; seed <= CASES; seed++) {
        const struct gen_options o = {.seed = seed,
                                      .malts = 3 + seed % 3,
                                      .hops = 2,
                                      .yeasts = seed % 3,
                                      .slots = 1 + seed % 2,
                                      .scale = GEN_TINY,
                                      .planted = seed % 4 > 0,
                                      .tight = seed % 5 != 0,
                                      .fermented = seed % 3 > 0};
        struct hunt h = {.g = gen_make(&o)};
        size_t rank = 0;
        make_from(h.g, &h.from);
        for (int k = 0; k < RANKS; k++)
            h.best[k][0] = h.best[k][1] = INFINITY;
        brute_each(h.g, visit, &h);
        while (rank + 1 < RANKS && isinf(h.best[rank][BRUTE_PERHAPS]))
            rank++;
        check_solution(&h, h.best[rank]);
        gen_free(h.g);
    }
    print_message("%zu solved, %zu proved\n", solved, proved);
    assert_true(solved >= CASES * 3 / 4 && proved >= solved * 9 / 10);
}

/* ---- Revised recipes ------------------------------------------------------------------------- */

static struct wf_recipe *read_example(void)
{
    struct wf_recipe *r = NULL;
    wf_error_clear(&error);
    if (wf_recipe_read(WF_SOURCE_DIR "/examples/last-autumn-amber.json", NULL, catalogue, &r,
                       &error) != WF_OK)
        fail_msg("%s", error.text);
    return r;
}

/* A scale that weighs the example as it is. */
static struct wf_brewhouse fine_scale(void)
{
    struct wf_brewhouse b;
    wf_brewhouse_default(WF_UNITS_METRIC, &b);
    b.step_malt_kg = b.step_specialty_kg = b.least_malt_kg = 0.005;
    b.step_hop_g = b.least_hop_g = 1;
    return b;
}

static enum wf_status revise(const struct wf_recipe *r, const struct wf_revision *v,
                             const struct wf_store *s, struct wf_revised *out, struct wf_error *e)
{
    const struct wf_brewhouse b = fine_scale();
    const struct wf_solve_options o = {.today = WF_NO_DATE};
    return wf_recipe_revise(r, v, s, &b, &o, 0, out, e);
}

/* What a recipe is, as a target: the recipe itself, unchanged, is the answer. */
static void recipe_meets_its_own_target(void **state)
{
    struct wf_recipe *r = read_example();
    struct wf_store *own = NULL;
    struct wf_revised found;
    struct wf_revision none;
    (void)state;
    wf_revision_none(&none);
    assert_int_equal(wf_recipe_lots(r, NULL, &own, &error), WF_OK);
    assert_int_equal(revise(r, &none, own, &found, &error), WF_OK);
    assert_close(found.loose, 1, 0);
    assert_close(wf_recipe_change(r, found.found->list[0].recipe), 0, 1e-9);
    wf_revised_clear(&found);
    wf_store_free(own);
    wf_recipe_free(r);
}

/* Another lot with the same figures takes the place of one that has run out, gram for gram. */
static void identical_lot_is_no_change(void **state)
{
    struct wf_recipe *r = read_example();
    struct wf_store *own = NULL;
    struct wf_revised found;
    struct wf_revision none;
    (void)state;
    wf_revision_none(&none);
    assert_int_equal(wf_recipe_lots(r, NULL, &own, &error), WF_OK);
    own->malts[1].id = "another-sack";
    own->malts[1].of = NULL;
    own->hops[0].id = "another-bag";
    own->hops[0].of = NULL;
    assert_int_equal(revise(r, &none, own, &found, &error), WF_OK);
    const struct wf_recipe *is = found.found->list[0].recipe;
    assert_close(is->proofs[0].value, 0, 1e-9);
    for (size_t i = 0; i < is->malt_count; i++)
        if (strcmp(is->malts[i].id, "another-sack") == 0)
            assert_close(is->malts[i].kg, r->malts[1].kg, 1e-9);
    assert_close(is->predicted.og, r->predicted.og, 1e-9);
    assert_close(is->predicted.ibu, r->predicted.ibu, 1e-9);
    wf_revised_clear(&found);
    wf_store_free(own);
    wf_recipe_free(r);
}

/* Up and down again by what was gained: the figure is what it was, and what is held is held. */
static void there_and_back(void **state)
{
    struct wf_recipe *r = read_example();
    struct wf_store *shop = NULL, *lots = NULL;
    struct wf_revised up, down;
    struct wf_revision v;
    (void)state;
    assert_int_equal(wf_store_sample(catalogue, &shop, &error), WF_OK);
    assert_int_equal(wf_recipe_lots(r, shop, &lots, &error), WF_OK);
    wf_revision_none(&v);
    double was = r->character[WF_WORD_TOAST];
    v.words[WF_WORD_TOAST] = (struct wf_range){was + 0.5, was + 0.6, (double)NAN};
    assert_int_equal(revise(r, &v, lots, &up, &error), WF_OK);
    const struct wf_recipe *more = up.found->list[0].recipe;
    assert_true(more->character[WF_WORD_TOAST] >= was + 0.5 - 1e-5);
    v.words[WF_WORD_TOAST] = (struct wf_range){was - 0.1, was + 0.01, (double)NAN};
    assert_int_equal(revise(more, &v, lots, &down, &error), WF_OK);
    const struct wf_recipe *back = down.found->list[0].recipe;
    assert_close(back->character[WF_WORD_TOAST], was, 0.11);
    assert_close(back->predicted.og, r->predicted.og, 2 * WF_HOLD_GRAVITY);
    assert_close(back->predicted.ratio, r->predicted.ratio, 4 * WF_HOLD_RATIO);
    assert_true(wf_recipe_change(r, back) <= 2 * wf_recipe_change(r, more));
    wf_revised_clear(&down);
    wf_revised_clear(&up);
    wf_store_free(lots);
    wf_store_free(shop);
    wf_recipe_free(r);
}

/* A kilogram of base malt: no multiple helps, and the nearest is told. */
static void nothing_to_brew_from(void **state)
{
    struct wf_recipe *r = read_example();
    struct wf_store *own = NULL;
    struct wf_revised found;
    struct wf_revision none;
    (void)state;
    wf_revision_none(&none);
    assert_int_equal(wf_recipe_lots(r, NULL, &own, &error), WF_OK);
    own->malts[0].have_kg = own->malts[1].have_kg = 1;
    assert_int_equal(revise(r, &none, own, &found, &error), WF_NO_RECIPE);
    assert_true(found.found != NULL && found.found->list[0].recipe->status == WF_RECIPE_NONE);
    wf_revised_clear(&found);
    wf_store_free(own);
    wf_recipe_free(r);
}

static void change_needs_a_recipe(void **state)
{
    struct wf_recipe *r = NULL;
    struct wf_target *t = NULL;
    struct wf_store *s = NULL;
    const struct wf_brewhouse b = fine_scale();
    struct wf_solve_options o = {.goals = {WF_GOAL_CHANGE}, .goal_count = 1, .today = WF_NO_DATE};
    (void)state;
    assert_int_equal(wf_target_find("amber-ale", catalogue, &t, &error), WF_OK);
    assert_int_equal(wf_store_sample(catalogue, &s, &error), WF_OK);
    assert_int_equal(wf_solve(t, s, &b, &o, &r, &error), WF_USAGE);
    assert_null(r);
    wf_store_free(s);
    wf_target_free(t);
}

static enum wf_status revise_once(void *data, struct wf_error *e)
{
    const struct wf_recipe *r = data;
    struct wf_store *own = NULL;
    struct wf_revised found = {0};
    struct wf_revision v;
    wf_revision_none(&v);
    v.words[WF_WORD_TOAST] = (struct wf_range){1.7, 2.2, (double)NAN};
    enum wf_status status = wf_recipe_lots(r, NULL, &own, e);
    if (status == WF_OK)
        status = revise(r, &v, own, &found, e);
    wf_revised_clear(&found);
    wf_store_free(own);
    return status;
}

static void out_of_memory(void **state)
{
    struct wf_recipe *r = read_example();
    (void)state;
    check_memory_is_told(revise_once, r, 100, 7);
    wf_recipe_free(r);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(least_change_is_the_enumerated_one),
        cmocka_unit_test(recipe_meets_its_own_target),
        cmocka_unit_test(identical_lot_is_no_change),
        cmocka_unit_test(there_and_back),
        cmocka_unit_test(nothing_to_brew_from),
        cmocka_unit_test(change_needs_a_recipe),
        cmocka_unit_test(out_of_memory),
    };
    return cmocka_run_group_tests(tests, set_up, tear_down);
}
