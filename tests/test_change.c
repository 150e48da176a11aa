/*
 * How far one recipe is from another (revise.h), by sums done by hand. The grist weighs 5 kg in 20
 * L, so 50 g of it are one step; so are 2 g of a late hop, and 2 / 0.3 g of an early one. What
 * comes or goes is 5 more.
 */
#include "support/test.h"

#include "wortfit/revise.h"

#define ROOM 1e-9

enum { PALE, CRYSTAL, MALTS = 3 }; /* one line is free */
enum { BITTER, LATE, STAND, DRY, HOPS = 5 };

struct one {
    struct wf_recipe recipe;
    struct wf_recipe_malt malts[MALTS];
    struct wf_recipe_hop hops[HOPS];
};

struct two {
    struct one from, to;
};

static void make(struct one *o)
{
    *o = (struct one){
        .recipe = {.kettle = {.batch_l = 20, .boil_minutes = 60}, .malt_count = 2, .hop_count = 4},
        .malts = {[PALE] = {.id = "pale",
                            .class = WF_CLASS_BASE,
                            .grain = {0.8, 2, 100, 0.8, false, true},
                            .usual_most = 1,
                            .kg = 4,
                            .character = {1}},
                  [CRYSTAL] = {.id = "dark-sack",
                               .of = "crystal",
                               .class = WF_CLASS_CARAMEL,
                               .grain = {0.74, 60, 0, 0.6, false, true},
                               .usual_most = 0.15,
                               .kg = 1,
                               .character = {0, 2}}},
        .hops = {[BITTER] = {.id = "first", .addition = {WF_HOP_BOIL, 0.10, 60, 0, 1}, .grams = 30},
                 [LATE] = {.id = "first", .addition = {WF_HOP_BOIL, 0.10, 10, 0, 1}, .grams = 20},
                 [STAND] = {.id = "bag",
                            .of = "second",
                            .addition = {WF_HOP_STAND, 0.05, 20, 80, 1},
                            .grams = 25},
                 [DRY] = {.id = "bag",
                          .of = "second",
                          .addition = {WF_HOP_DRY, 0.05, 0, 0, 1},
                          .grams = 40}}};
    o->hops[BITTER].character[0] = o->hops[LATE].character[0] = 1;
    o->hops[STAND].character[1] = o->hops[DRY].character[1] = 4;
    o->recipe.yeast.id = "ale-yeast";
    o->recipe.yeast.family = "clean";
    o->recipe.yeast.attenuation = 0.75;
    o->recipe.yeast.ester = 2;
    o->recipe.yeast.phenol = 0;
}

/* The same recipe twice. */
static struct two alike(void)
{
    struct two t;
    make(&t.from);
    make(&t.to);
    return t;
}

static double change(struct two *t)
{
    t->from.recipe.malts = t->from.malts;
    t->from.recipe.hops = t->from.hops;
    t->to.recipe.malts = t->to.malts;
    t->to.recipe.hops = t->to.hops;
    return wf_recipe_change(&t->from.recipe, &t->to.recipe);
}

static struct wf_recipe_malt *new_malt(struct two *t, enum wf_malt_class class, double kg)
{
    struct wf_recipe_malt *m = &t->to.malts[t->to.recipe.malt_count++];
    *m = (struct wf_recipe_malt){.id = "newcomer", .class = class, .kg = kg};
    return m;
}

static struct wf_recipe_hop *new_hop(struct two *t, double grams)
{
    struct wf_recipe_hop *h = &t->to.hops[t->to.recipe.hop_count++];
    *h = (struct wf_recipe_hop){
        .id = "third", .addition = {WF_HOP_BOIL, 0.12, 60, 0, 1}, .grams = grams};
    return h;
}

/* ---- Weights --------------------------------------------------------------------------------- */

static void weights_count_by_their_steps(void **state)
{
    struct two t = alike();
    (void)state;
    assert_close(change(&t), 0, 0);
    t.to.malts[PALE].kg = 4.1;
    assert_close(change(&t), 2, ROOM);
    t.to.malts[CRYSTAL].kg = 0.5;
    assert_close(change(&t), 2 + 10, ROOM);
    t.to.malts[CRYSTAL].kg = 0;
    assert_close(change(&t), 2 + 20 + 5, ROOM);
    t.to.recipe.malt_count = 1;
    assert_close(change(&t), 2 + 20 + 5, ROOM);
}

static void late_hops_count_more_than_early_ones(void **state)
{
    static const struct {
        size_t hop;
        double want;
    } rows[] = {{BITTER, 1.5}, {LATE, 5}, {STAND, 5}, {DRY, 5}};
    (void)state;
    for (size_t i = 0; i < COUNT_OF(rows); i++) {
        struct two t = alike();
        t.to.hops[rows[i].hop].grams += 10;
        assert_close(change(&t), rows[i].want, ROOM);
        t.to.hops[rows[i].hop].grams -= 20;
        assert_close(change(&t), rows[i].want, ROOM);
    }
    struct two t = alike();
    t.to.hops[BITTER].grams = 0;
    assert_close(change(&t), 30 * 0.15 + 5, ROOM);
}

/* The last WF_LATE_HOP_MINUTES of the boil are late, that minute too; first wort hops are early. */
static void lateness_ends_at_its_minute(void **state)
{
    static const struct {
        enum wf_hop_use use;
        double minutes, want;
    } rows[] = {{WF_HOP_BOIL, WF_LATE_HOP_MINUTES, 5},
                {WF_HOP_BOIL, WF_LATE_HOP_MINUTES + 0.5, 1.5},
                {WF_HOP_FIRST_WORT, 0, 1.5}};
    (void)state;
    for (size_t i = 0; i < COUNT_OF(rows); i++) {
        struct two t = alike();
        t.from.hops[LATE].addition.use = t.to.hops[LATE].addition.use = rows[i].use;
        t.from.hops[LATE].addition.minutes = t.to.hops[LATE].addition.minutes = rows[i].minutes;
        t.to.hops[LATE].grams += 10;
        assert_close(change(&t), rows[i].want, ROOM);
    }
}

static void another_batch_is_no_change(void **state)
{
    struct two t = alike();
    (void)state;
    t.to.recipe.kettle.batch_l = 40;
    for (size_t i = 0; i < 2; i++)
        t.to.malts[i].kg *= 2;
    for (size_t i = 0; i < 4; i++)
        t.to.hops[i].grams *= 2;
    assert_close(change(&t), 0, ROOM);
    t.to.malts[PALE].kg += 0.1; /* of 10 kg */
    t.to.hops[DRY].grams += 10; /* in 40 L */
    assert_close(change(&t), 1 + 2.5, ROOM);
}

static void nothing_is_no_change(void **state)
{
    struct two t = alike();
    (void)state;
    t.from.recipe.malt_count = t.to.recipe.malt_count = 0;
    t.from.recipe.hop_count = t.to.recipe.hop_count = 0;
    assert_close(change(&t), 0, 0);
}

/* ---- Which is which -------------------------------------------------------------------------- */

static void names_tell_a_malt(void **state)
{
    static const struct {
        const char *id, *of;
        double want;
    } rows[] = {{"other-sack", "crystal", 0},
                {"crystal", NULL, 0},
                {"dark-sack", "something-else", 0},
                {"other-sack", "something-else", 25 + 25},
                {"other-sack", NULL, 25 + 25}};
    (void)state;
    for (size_t i = 0; i < COUNT_OF(rows); i++) {
        struct two t = alike();
        t.to.malts[CRYSTAL].id = rows[i].id;
        t.to.malts[CRYSTAL].of = rows[i].of;
        t.to.malts[CRYSTAL].grain.lovibond = 61; /* so that figures do not tell it */
        assert_close(change(&t), rows[i].want, ROOM);
    }
}

/* One with the figures of the first line and the name of the second is the second. */
static void a_name_goes_before_figures(void **state)
{
    struct two t = alike();
    (void)state;
    struct wf_recipe_malt pale = t.to.malts[PALE];
    pale.id = "dark-sack";
    pale.kg = 1;
    t.to.malts[CRYSTAL] = pale;
    assert_close(change(&t), 0, 0);
}

/* Without its name it is known by its figures, of which none may differ. */
static void every_figure_tells_a_malt(void **state)
{
    enum { FIGURES = 9 };
    (void)state;
    for (int k = -1; k < FIGURES; k++) {
        struct two t = alike();
        struct wf_recipe_malt *m = &t.to.malts[CRYSTAL];
        double *numbers[] = {&m->grain.yield,          &m->grain.lovibond, &m->grain.lintner,
                             &m->grain.fermentability, &m->usual_most,     &m->character[1]};
        m->id = "other-sack";
        m->of = NULL;
        if (k >= 0 && k < 6)
            *numbers[k] += 0.01;
        m->grain.sugar = k == 6;
        m->grain.mashed = k != 7;
        m->class = k == 8 ? WF_CLASS_OTHER : WF_CLASS_CARAMEL;
        assert_close(change(&t), k < 0 ? 0 : 25 + 25, ROOM);
    }
}

static void every_figure_tells_a_hop(void **state)
{
    (void)state;
    for (int k = -1; k < 3; k++) {
        struct two t = alike();
        struct wf_recipe_hop *h = &t.to.hops[BITTER];
        h->id = "other-bag";
        h->addition.alpha += k == 0 ? 0.001 : 0;
        h->whole = k == 1;
        h->character[0] += k == 2 ? 0.5 : 0;
        assert_close(change(&t), k < 0 ? 0 : 2 * (30 * 0.15 + 5), ROOM);
    }
}

/* A hop elsewhere goes and comes. A boil cannot be longer than it is. */
static void the_time_tells_a_hop(void **state)
{
    static const struct {
        size_t hop;
        double minutes, celsius, want;
    } rows[] = {
        {BITTER, 90, 0, 0},        {BITTER, 45, 0, 2 * 9.5},   {LATE, 15, 0, 2 * 15},
        {STAND, 20, 75, 2 * 17.5}, {STAND, 30, 80, 2 * 17.5},  {DRY, 5, 5, 0},
        {BITTER, 60, 99, 0},       {LATE, 10.0000001, 0, 0.0},
    };
    (void)state;
    for (size_t i = 0; i < COUNT_OF(rows); i++) {
        struct two t = alike();
        t.to.hops[rows[i].hop].addition.minutes = rows[i].minutes;
        t.to.hops[rows[i].hop].addition.celsius = rows[i].celsius;
        assert_close(change(&t), rows[i].want, ROOM);
    }
    struct two t = alike();
    t.to.hops[LATE].addition.use = WF_HOP_STAND;
    assert_close(change(&t), 2 * 15, ROOM);
}

static void lots_of_one_kind_are_one(void **state)
{
    struct two t = alike();
    (void)state;
    t.from.malts[2] = t.from.malts[CRYSTAL];
    t.from.malts[CRYSTAL].kg = 0.6;
    t.from.malts[2].kg = 0.4;
    t.from.malts[2].id = "other-sack";
    t.from.recipe.malt_count = 3;
    assert_close(change(&t), 0, ROOM);
    t.to.malts[CRYSTAL].kg = 0;
    assert_close(change(&t), 20 + 5, ROOM);

    struct two h = alike();
    h.to.hops[4] = h.to.hops[DRY];
    h.to.hops[DRY].grams = 10;
    h.to.hops[4].grams = 30;
    h.to.hops[4].id = "other-bag";
    h.to.recipe.hop_count = 5;
    assert_close(change(&h), 0, ROOM);
}

/* ---- What comes ------------------------------------------------------------------------------ */

/* Likeness, none gone: scores in eighths, 0.5 for another class, 1 to 2. */
static void an_unlike_malt_counts_more(void **state)
{
    static const struct {
        enum wf_malt_class class;
        double scores[3], unlike;
    } rows[] = {
        {WF_CLASS_BASE, {2, 0, 0}, 1},        /* 0.25 + 1/8 */
        {WF_CLASS_ROAST, {0, 0, 5}, 1.5},     /* of pale 0.75 + 6/8; of crystal 0.75 + 7/8 */
        {WF_CLASS_CARAMEL, {0, 4, 5}, 1.125}, /* of crystal 0.25 + 7/8 */
        {WF_CLASS_SUGAR, {5, 5, 5}, 2},       /* the most */
    };
    (void)state;
    for (size_t i = 0; i < COUNT_OF(rows); i++) {
        struct two t = alike();
        struct wf_recipe_malt *m = new_malt(&t, rows[i].class, 0.5);
        memcpy(m->character, rows[i].scores, sizeof rows[i].scores);
        assert_close(change(&t), 10 * rows[i].unlike + 5, ROOM);
        m->kg = 0;
        assert_close(change(&t), 0, 0);
    }
}

/* What is gone alone is looked at, and like ones are charged less for coming. */
static void a_malt_stands_in_for_what_is_gone(void **state)
{
    static const struct {
        enum wf_malt_class class;
        double scores[2], unlike;
    } rows[] = {
        {WF_CLASS_BASE, {2, 0}, 1.25},     /* of crystal 0.75 + 4/8, though pale is nearer */
        {WF_CLASS_CARAMEL, {0, 3}, 0.375}, /* 0.25 + 1/8 */
    };
    (void)state;
    for (size_t i = 0; i < COUNT_OF(rows); i++) {
        struct two t = alike();
        t.from.malts[CRYSTAL].gone = true;
        t.to.malts[CRYSTAL].kg = 0;
        struct wf_recipe_malt *m = new_malt(&t, rows[i].class, 1);
        memcpy(m->character, rows[i].scores, sizeof rows[i].scores);
        double want = 25 + 20 * rows[i].unlike + 5 * fmin(1, rows[i].unlike);
        assert_close(change(&t), want, ROOM);
    }
}

static void hops_that_come(void **state)
{
    static const struct {
        bool gone;
        double scores[5], unlike, charge;
    } rows[] = {
        {false, {1}, 1, 5},             /* 0.25 of the first */
        {false, {5, 0, 5}, 1.375, 5},   /* of the first 0.25 + 9/8; of the second 0.25 + 14/8 */
        {false, {5, 5, 5}, 1.625, 5},   /* of the first 0.25 + 14/8; of the second 0.25 + 11/8 */
        {false, {5, 0, 5, 5, 5}, 2, 5}, /* the most */
        {true, {1}, 0.25, 1.25},        /* of the first, which is gone */
        {true, {0, 4}, 0.875, 4.375},   /* like the second, which is there: 0.25 + 5/8 */
    };
    (void)state;
    for (size_t i = 0; i < COUNT_OF(rows); i++) {
        struct two t = alike();
        double goes = rows[i].gone ? 30 * 0.15 + 5 : 0;
        t.from.hops[BITTER].gone = rows[i].gone;
        if (rows[i].gone)
            t.to.hops[BITTER].grams = 0;
        struct wf_recipe_hop *h = new_hop(&t, 30);
        memcpy(h->character, rows[i].scores, sizeof rows[i].scores);
        assert_close(change(&t), goes + 30 * 0.15 * rows[i].unlike + rows[i].charge, ROOM);
    }
}

/* ---- Yeast ----------------------------------------------------------------------------------- */

static void another_yeast(void **state)
{
    static const struct {
        const char *id, *of, *family;
        double attenuation, ester, phenol, want;
    } rows[] = {
        {"ale-yeast", NULL, "other", 0.9, 5, 5, 0},
        {"packet", "ale-yeast", "other", 0.9, 5, 5, 0},
        {NULL, NULL, NULL, 0.9, 5, 5, 0},
        {"packet", NULL, "clean", 0.75, 2, 0, 5},
        {"packet", NULL, "clean", 0.78, 2, 0, 5 + 3},
        {"packet", NULL, "clean", 0.75, 3.5, 0, 5 + 3},
        {"packet", NULL, "clean", 0.75, 1, 1, 5 + 2 + 2},
        {"packet", NULL, "other", 0.75, 2, 0, 5 + 10},
        {"packet", NULL, NULL, 0.75, 2, 0, 5},
        {"packet", NULL, "clean", (double)NAN, (double)NAN, (double)NAN, 5},
    };
    (void)state;
    for (size_t i = 0; i < COUNT_OF(rows); i++) {
        struct two t = alike();
        t.to.recipe.yeast.id = rows[i].id;
        t.to.recipe.yeast.of = rows[i].of;
        t.to.recipe.yeast.family = rows[i].family;
        t.to.recipe.yeast.attenuation = rows[i].attenuation;
        t.to.recipe.yeast.ester = rows[i].ester;
        t.to.recipe.yeast.phenol = rows[i].phenol;
        assert_close(change(&t), rows[i].want, ROOM);
    }
    struct two t = alike();
    t.from.recipe.yeast.id = NULL;
    assert_close(change(&t), 0, 0);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(weights_count_by_their_steps),
        cmocka_unit_test(late_hops_count_more_than_early_ones),
        cmocka_unit_test(lateness_ends_at_its_minute),
        cmocka_unit_test(another_batch_is_no_change),
        cmocka_unit_test(nothing_is_no_change),
        cmocka_unit_test(names_tell_a_malt),
        cmocka_unit_test(a_name_goes_before_figures),
        cmocka_unit_test(every_figure_tells_a_malt),
        cmocka_unit_test(every_figure_tells_a_hop),
        cmocka_unit_test(the_time_tells_a_hop),
        cmocka_unit_test(lots_of_one_kind_are_one),
        cmocka_unit_test(an_unlike_malt_counts_more),
        cmocka_unit_test(a_malt_stands_in_for_what_is_gone),
        cmocka_unit_test(hops_that_come),
        cmocka_unit_test(another_yeast),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
