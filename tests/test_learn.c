/* What is learnt from brews: from drawn logs whose truth is known, with slips in them; and what is
 * written into a brewhouse. */
#include "support/dice.h"
#include "support/memory.h"
#include "support/test.h"

#include "base/alloc.h"
#include "wortfit/learn.h"
#include "wortfit/solve.h"

#include <stdbool.h>

static struct wf_catalogue *catalogue;

static int set_up(void **state)
{
    (void)state;
    return wf_catalogue_read(&catalogue, NULL) == WF_OK ? 0 : -1;
}

static int tear_down(void **state)
{
    (void)state;
    wf_catalogue_free(catalogue);
    return 0;
}

/* ---- Drawn logs ------------------------------------------------------------------------------ */

/* A brewhouse as it is, and how far its brews vary (standard deviations of logarithms). */
struct truth {
    double efficiency, fall, evaporation, bitterness, colour, attenuation[2];
    double spread; /* of all of it */
    long slips;    /* of a hundred brews so many have a figure that is far off */
};

static const char *const yeast[2] = {"american-ale-clean", "english-ale-dry"};

static double normal(struct dice *d)
{
    double sum = -6;
    for (int i = 0; i < 12; i++)
        sum += dice_decimal(d, 0, 1000000, 1e6);
    return sum;
}

static double off(struct dice *d, const struct truth *t)
{
    return exp(t->spread * normal(d));
}

/* A factor that a slip makes of a figure, or 1. */
static double slip(struct dice *d, const struct truth *t, double by)
{
    return dice_chance(d, t->slips) ? by : 1;
}

static struct wf_recipe *recipe_of(double strength, int which)
{
    char text[700];
    struct wf_recipe *r = NULL;
    snprintf(text, sizeof text,
             "{ \"recipe\": \"r\", \"batch_l\": 20, \"malts\": ["
             "{ \"id\": \"pale-ale-malt-british\", \"kg\": %.3f },"
             "{ \"id\": \"crystal-60\", \"kg\": %.3f }, { \"id\": \"black-malt\", \"kg\": 0.05 }],"
             "\"hops\": [{ \"id\": \"magnum\", \"g\": 15, \"at\": \"60 min\" },"
             "{ \"id\": \"cascade\", \"g\": 30, \"at\": \"10 min\" }],"
             "\"yeast\": { \"id\": \"%s\" } }",
             4 * strength, 0.3 * strength, yeast[which]);
    if (wf_recipe_parse("r", text, strlen(text), NULL, catalogue, &r, NULL) != WF_OK)
        fail_msg("no recipe");
    return r;
}

/* The efficiency that goes with the gravity that it gives, off by a factor. */
static void set_efficiency(const struct truth *t, struct wf_recipe *r, double by)
{
    r->kettle.efficiency = t->efficiency;
    for (int i = 0; i < 60; i++) {
        assert_int_equal(wf_recipe_predict(r, NULL), WF_OK);
        double there = t->efficiency - t->fall * (r->predicted.og - 1.050) / 0.010;
        r->kettle.efficiency = (r->kettle.efficiency + fmin(1, there * by)) / 2;
    }
    assert_int_equal(wf_recipe_predict(r, NULL), WF_OK);
}

/* What would be measured of the recipe in the brewhouse. */
static struct wf_measured measure(struct dice *d, const struct truth *t, struct wf_recipe *r,
                                  int which)
{
    const struct wf_kettle kept = r->kettle;
    double usual = r->yeast.attenuation, litres = dice_decimal(d, 180, 220, 10);
    struct wf_measured m = wf_measured_none();
    r->kettle.batch_l = litres;
    r->kettle.evaporation_l_h = t->evaporation * off(d, t);
    r->yeast.attenuation = fmin(1, t->attenuation[which] * off(d, t));
    set_efficiency(t, r, off(d, t));
    m.og = r->predicted.og;
    m.fg = r->predicted.fg;
    m.volume_l = litres * slip(d, t, 0.8);
    m.boil_minutes = 60;
    m.pre_boil_l = m.volume_l + r->kettle.evaporation_l_h;
    m.ibu = r->predicted.ibu * t->bitterness * off(d, t) * slip(d, t, 2);
    m.srm = r->predicted.srm * t->colour * off(d, t) * slip(d, t, 0.5);
    r->kettle = kept;
    r->yeast.attenuation = usual;
    assert_int_equal(wf_recipe_predict(r, NULL), WF_OK);
    return m;
}

static struct wf_log *draw_log(struct dice *d, const struct truth *t, size_t count)
{
    struct wf_arena *arena = wf_arena_new();
    struct wf_log *l = wf_arena_alloc(arena, 1, sizeof *l);
    l->arena = arena;
    l->brews = wf_arena_alloc(arena, count, sizeof *l->brews);
    l->count = count;
    for (size_t i = 0; i < count; i++) {
        int which = (int)(i % 2);
        struct wf_recipe *r = recipe_of(dice_decimal(d, 70, 150, 100), which);
        l->brews[i] = (struct wf_brew){.id = "b",
                                       .on = 20000 + (long)i,
                                       .hash = "0",
                                       .recipe = r,
                                       .planned = r->predicted,
                                       .measured = measure(d, t, r, which),
                                       .line = i + 1};
    }
    return l;
}

static void free_log(struct wf_log *l)
{
    for (size_t i = 0; i < l->count; i++)
        wf_recipe_free(l->brews[i].recipe);
    wf_arena_free(l->arena);
}

static struct wf_brewhouse usual_brewhouse(void)
{
    struct wf_brewhouse b;
    wf_brewhouse_default(WF_UNITS_METRIC, &b);
    return b;
}

static struct wf_learning *learn(const struct wf_log *l)
{
    struct wf_brewhouse b = usual_brewhouse();
    struct wf_learning *out = NULL;
    struct wf_error e = {0};
    if (wf_learn(l, &b, &out, &e) != WF_OK)
        fail_msg("%s", e.text);
    return out;
}

static struct truth draw_truth(struct dice *d, double spread, long slips)
{
    return (struct truth){
        .efficiency = dice_decimal(d, 60, 80, 100),
        .fall = dice_decimal(d, 10, 30, 1000),
        .evaporation = dice_decimal(d, 20, 50, 10),
        .bitterness = dice_decimal(d, 70, 120, 100),
        .colour = dice_decimal(d, 80, 120, 100),
        .attenuation = {dice_decimal(d, 70, 82, 100), dice_decimal(d, 70, 82, 100)},
        .spread = spread,
        .slips = slips};
}

/* ---- The truth comes out --------------------------------------------------------------------- */

struct score {
    int all, near; /* estimates; within 1.645 of their standard errors */
};

/* Within so many of its standard errors, always. */
static void judge(struct score *s, const struct wf_learned *v, double truth, double most,
                  const char *what)
{
    double by = fabs(v->value - truth) / v->error;
    if (!(by < most))
        fail_msg("%s: %g, in truth %g: %g standard errors of %g", what, v->value, truth, by,
                 v->error);
    s->all++;
    s->near += by < 1.645;
}

static void judge_all(struct score *s, const struct wf_learning *l, const struct truth *t,
                      double most)
{
    double there = t->efficiency - t->fall * (l->gravity - 1.050) / 0.010;
    judge(s, &l->efficiency, there, most, "efficiency");
    judge(s, &l->evaporation, t->evaporation, most, "evaporation");
    judge(s, &l->bitterness, t->bitterness, most, "bitterness");
    judge(s, &l->colour, t->colour, most, "colour");
    assert_int_equal(l->yeast_count, 2);
    for (int i = 0; i < 2; i++) {
        assert_string_equal(l->yeasts[i].id, yeast[i]);
        judge(s, &l->yeasts[i].attenuation, t->attenuation[i], most, yeast[i]);
    }
}

static void the_truth_comes_out(double spread, long slips, size_t brews, double most)
{
    struct dice d = {(uint64_t)(1000 * spread) + (uint64_t)slips + brews};
    struct score s = {0};
    for (int run = 0; run < 40; run++) {
        struct truth t = draw_truth(&d, spread, slips);
        struct wf_log *log = draw_log(&d, &t, brews);
        struct wf_learning *l = learn(log);
        assert_int_equal(l->brews + l->left_out, brews);
        judge_all(&s, l, &t, most);
        wf_learning_free(l);
        free_log(log);
    }
    if (s.near < s.all * 8 / 10)
        fail_msg("only %d of %d within 1.645 standard errors", s.near, s.all);
}

static void the_truth_comes_out_of_good_logs(void **state)
{
    (void)state;
    the_truth_comes_out(0.03, 0, 30, 4.5);
    the_truth_comes_out(0.03, 0, 12, 4.5);
    the_truth_comes_out(0.02, 0, 6, 4.5);
}

static void and_of_logs_with_slips(void **state)
{
    (void)state;
    the_truth_comes_out(0.03, 10, 30, 6);
    the_truth_comes_out(0.02, 10, 20, 6);
}

static void spreads_come_out(void **state)
{
    struct dice d = {21};
    (void)state;
    for (int run = 0; run < 10; run++) {
        struct truth t = draw_truth(&d, 0.06, 0);
        struct wf_log *log = draw_log(&d, &t, 100);
        struct wf_learning *l = learn(log);
        assert_close(l->spread.efficiency, exp(0.06) - 1, 0.02);
        assert_close(l->spread.colour, exp(0.06) - 1, 0.02);
        assert_close(l->spread.attenuation, exp(0.06) - 1, 0.025);
        assert_true(l->spread.utilisation < exp(0.06) - 1 + 0.02);
        assert_true(isnan(l->spread.alpha) && isnan(l->spread.extract));
        wf_learning_free(l);
        free_log(log);
    }
}

/* Of one or two brews a spread is nearly the usual one, and a value is not gone by. */
static void few_brews_tell_little(void **state)
{
    struct dice d = {22};
    struct truth t = draw_truth(&d, 0.0, 0);
    struct wf_brewhouse b = usual_brewhouse();
    t.fall = 0;
    (void)state;
    for (size_t n = 0; n <= 3; n++) {
        struct wf_log *log = draw_log(&d, &t, n);
        struct wf_learning *l = learn(log);
        assert_int_equal(l->efficiency.brews, n);
        assert_int_equal(l->efficiency.enough, n >= WF_LEARN_LEAST);
        assert_int_equal(isnan(l->efficiency.value), n == 0);
        if (n == 1)
            assert_close(l->spread.efficiency, b.spread.efficiency, 1e-12);
        if (n > 1)
            assert_true(l->spread.efficiency < b.spread.efficiency);
        assert_close(l->fall.value, 0, 0);
        assert_false(l->fall.enough);
        wf_learning_free(l);
        free_log(log);
    }
}

/* A slip is set aside, and the day is told. */
static void slips_are_named(void **state)
{
    struct dice d = {40};
    struct truth t = draw_truth(&d, 0.01, 0);
    (void)state;
    struct wf_log *log = draw_log(&d, &t, 12);
    log->brews[4].measured.srm *= 3;
    log->brews[7].measured.srm /= 3;
    struct wf_learning *l = learn(log);
    assert_int_equal(l->colour.aside, 2);
    assert_int_equal(l->colour.brews, 10);
    assert_int_equal(l->colour.aside_on[0], log->brews[4].on);
    assert_int_equal(l->colour.aside_on[1], log->brews[7].on);
    wf_learning_free(l);
    free_log(log);
}

/* Brews of a place that is not the brewhouse's teach nothing of it; without a name all count. */
static void brews_of_another_brewhouse_do_not_count(void **state)
{
    struct dice d = {41};
    struct truth here = draw_truth(&d, 0.01, 0), there = here;
    struct wf_brewhouse b = usual_brewhouse();
    struct wf_learning *l = NULL;
    (void)state;
    there.efficiency = here.efficiency - 0.2;
    struct wf_log *log = draw_log(&d, &here, 12), *other = draw_log(&d, &there, 12);
    for (size_t i = 0; i < 12; i += 2) {
        struct wf_brew kept = log->brews[i];
        log->brews[i] = other->brews[i];
        log->brews[i].brewhouse = "There";
        other->brews[i] = kept;
        log->brews[i + 1].brewhouse = i == 0 ? NULL : "Here"; /* one does not say */
    }
    b.name = "Here";
    assert_int_equal(wf_learn(log, &b, &l, NULL), WF_OK);
    assert_int_equal(l->brews, 6);
    assert_int_equal(l->elsewhere, 6);
    assert_string_equal(l->other_name, "There");
    assert_false(l->mixed);
    assert_close(l->efficiency.value, here.efficiency - here.fall * (l->gravity - 1.050) / 0.010,
                 0.03);
    wf_learning_free(l);
    l = learn(log);
    assert_int_equal(l->brews, 12);
    assert_int_equal(l->elsewhere, 0);
    assert_true(l->mixed);
    wf_learning_free(l);
    free_log(log);
    free_log(other);
}

static void the_fall_comes_out(void **state)
{
    struct dice d = {23};
    (void)state;
    for (int run = 0; run < 20; run++) {
        struct truth t = draw_truth(&d, 0.01, 0);
        struct wf_log *log = draw_log(&d, &t, 20);
        struct wf_learning *l = learn(log);
        assert_true(l->fall.enough);
        double width = l->fall_high - l->fall_low;
        assert_true(l->fall_low > 0 && t.fall > l->fall_low - width / 2 &&
                    t.fall < l->fall_high + width / 2);
        wf_learning_free(l);
        free_log(log);
    }
}

/* Nor is it hidden by brews that by chance went well, and so are stronger: on the whole it comes
 * out as it is. */
static void chance_does_not_hide_the_fall(void **state)
{
    struct dice d = {30};
    double sum = 0, runs = 40;
    (void)state;
    for (int run = 0; run < runs; run++) {
        struct truth t = draw_truth(&d, 0.03, 0);
        struct wf_log *log = draw_log(&d, &t, 60);
        struct wf_learning *l = learn(log);
        assert_true(l->fall.enough);
        sum += l->fall.value - t.fall;
        wf_learning_free(l);
        free_log(log);
    }
    assert_close(sum / runs, 0, 0.001);
}

/* Planned by another law of bitterness, or with a factor learnt before: the same is learnt. */
static void what_it_was_planned_by_does_not_matter(void **state)
{
    struct dice d = {31};
    struct truth t = draw_truth(&d, 0.03, 0);
    struct wf_log *log = draw_log(&d, &t, 9);
    struct wf_learning *before = learn(log);
    (void)state;
    for (size_t i = 0; i < log->count; i += 2) {
        log->brews[i].recipe->kettle.law = WF_RAGER;
        log->brews[i].recipe->kettle.bitterness_factor = 0.7;
        log->brews[i].recipe->kettle.colour_factor = 1.3;
    }
    struct wf_learning *after = learn(log);
    assert_close(after->bitterness.value, before->bitterness.value, 1e-12);
    assert_close(after->colour.value, before->colour.value, 1e-12);
    wf_learning_free(before);
    wf_learning_free(after);
    free_log(log);
}

/* No fall is made up: where efficiency is always the same, one is seen one time in twenty. */
static void no_fall_is_made_up(void **state)
{
    struct dice d = {24};
    int seen = 0;
    (void)state;
    for (int run = 0; run < 60; run++) {
        struct truth t = draw_truth(&d, 0.03, 0);
        t.fall = 0;
        struct wf_log *log = draw_log(&d, &t, 12);
        struct wf_learning *l = learn(log);
        seen += l->fall.value > 0;
        wf_learning_free(l);
        free_log(log);
    }
    assert_true(seen <= 8);
}

static void brews_that_cannot_be_are_left_out(void **state)
{
    struct dice d = {25};
    struct truth t = draw_truth(&d, 0.02, 0);
    struct wf_log *log = draw_log(&d, &t, 6);
    (void)state;
    log->brews[2].measured.volume_l = 100;
    log->brews[4].measured.fg = 1.2;
    struct wf_learning *l = learn(log);
    assert_int_equal(l->brews, 4);
    assert_int_equal(l->left_out, 2);
    assert_int_equal(strncmp(l->why, "line 3: ", 8), 0);
    wf_learning_free(l);
    free_log(log);
}

/* Once more, from a brewhouse that holds what was learnt: the same. */
static void learning_again_changes_nothing(void **state)
{
    static const char file[] = "{ \"brewhouse\": \"b\" }";
    struct dice d = {26};
    struct truth t = draw_truth(&d, 0.03, 0);
    struct wf_log *log = draw_log(&d, &t, 12);
    char *once = NULL, *twice = NULL;
    size_t length;
    struct wf_brewhouse *b = NULL;
    struct wf_learning *l = learn(log), *again = NULL;
    (void)state;
    assert_int_equal(wf_learning_edit(l, "b", file, strlen(file), &once, &length, NULL), WF_OK);
    assert_int_equal(wf_brewhouse_parse("b", once, length, WF_UNITS_METRIC, &b, NULL), WF_OK);
    assert_int_equal(wf_learn(log, b, &again, NULL), WF_OK);
    assert_int_equal(wf_learning_edit(again, "b", once, length, &twice, &length, NULL), WF_OK);
    assert_string_equal(once, twice);
    assert_close(again->efficiency.now, again->efficiency.value, 0.0006);
    assert_close(again->evaporation.now, again->evaporation.value, 0.006);
    assert_close(again->bitterness.now, again->bitterness.value, 0.0006);
    assert_close(again->yeasts[1].attenuation.now, again->yeasts[1].attenuation.value, 0.0006);
    wf_text_release(once);
    wf_text_release(twice);
    wf_learning_free(l);
    wf_learning_free(again);
    wf_brewhouse_free(b);
    free_log(log);
}

/* ---- Into a brewhouse ------------------------------------------------------------------------ */

static const char brewhouse_file[] =
    "// ours\n{\n  \"brewhouse\": \"b\", // a name\n  \"efficiency\": \"75 %\",  // once\n"
    "  \"evaporation\": \"3 L/h\",\n  \"spread\": { \"alpha\": \"8 %\", \"efficiency\": \"2 %\" "
    "},\n"
    "  \"yeasts\": [ { \"id\": \"english-ale-dry\", \"attenuation\": \"70 %\" } ]\n}\n";

static void what_is_written_reads_back_and_comments_stay(void **state)
{
    struct dice d = {27};
    struct truth t = draw_truth(&d, 0.02, 0);
    struct wf_log *log = draw_log(&d, &t, 20);
    struct wf_learning *l = learn(log);
    struct wf_brewhouse *b = NULL;
    char *text = NULL;
    size_t length;
    (void)state;
    assert_int_equal(
        wf_learning_edit(l, "b", brewhouse_file, strlen(brewhouse_file), &text, &length, NULL),
        WF_OK);
    assert_non_null(strstr(text, "// ours\n"));
    assert_non_null(strstr(text, "// a name\n"));
    assert_non_null(strstr(text, "  // once\n"));
    assert_int_equal(wf_brewhouse_parse("b", text, length, WF_UNITS_METRIC, &b, NULL), WF_OK);
    assert_close(b->efficiency, l->efficiency.value, 0.0006);
    assert_close(b->efficiency_fall, l->fall.value, 0.00006);
    assert_close(b->efficiency_gravity, l->gravity, 1e-9);
    assert_close(b->bitterness_factor, l->bitterness.value, 0.0006);
    assert_close(b->colour_factor, l->colour.value, 0.0006);
    assert_close(b->spread.efficiency, l->spread.efficiency, 0.0006);
    assert_close(b->spread.utilisation, l->spread.utilisation, 0.0006);
    assert_close(b->spread.alpha, 0.08, 1e-12);
    assert_int_equal(b->yeast_count, 2);
    for (int i = 0; i < 2; i++)
        assert_close(wf_brewhouse_attenuation(b, yeast[i], NULL, 0.1),
                     l->yeasts[i].attenuation.value, 0.0006);
    wf_brewhouse_free(b);
    wf_text_release(text);
    wf_learning_free(l);
    free_log(log);
}

static void too_few_brews_write_nothing(void **state)
{
    struct dice d = {28};
    struct truth t = draw_truth(&d, 0.02, 0);
    struct wf_log *log = draw_log(&d, &t, 2);
    struct wf_learning *l = learn(log);
    char *text = NULL;
    size_t length;
    (void)state;
    assert_int_equal(
        wf_learning_edit(l, "b", brewhouse_file, strlen(brewhouse_file), &text, &length, NULL),
        WF_OK);
    assert_string_equal(text, brewhouse_file);
    wf_text_release(text);
    wf_learning_free(l);
    free_log(log);
}

static enum wf_status learn_and_write(void *data, struct wf_error *e)
{
    struct wf_brewhouse b = usual_brewhouse();
    struct wf_learning *l = NULL;
    char *text = NULL;
    size_t length;
    enum wf_status status = wf_learn(data, &b, &l, e);
    if (status == WF_OK)
        status =
            wf_learning_edit(l, "b", brewhouse_file, strlen(brewhouse_file), &text, &length, e);
    wf_text_release(text);
    wf_learning_free(l);
    return status;
}

static void want_of_memory_is_told(void **state)
{
    struct dice d = {29};
    struct truth t = draw_truth(&d, 0.02, 0);
    struct wf_log *log = draw_log(&d, &t, 8);
    (void)state;
    check_out_of_memory(learn_and_write, log, 60, 5);
    free_log(log);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(the_truth_comes_out_of_good_logs),
        cmocka_unit_test(and_of_logs_with_slips),
        cmocka_unit_test(spreads_come_out),
        cmocka_unit_test(few_brews_tell_little),
        cmocka_unit_test(slips_are_named),
        cmocka_unit_test(brews_of_another_brewhouse_do_not_count),
        cmocka_unit_test(the_fall_comes_out),
        cmocka_unit_test(chance_does_not_hide_the_fall),
        cmocka_unit_test(what_it_was_planned_by_does_not_matter),
        cmocka_unit_test(no_fall_is_made_up),
        cmocka_unit_test(brews_that_cannot_be_are_left_out),
        cmocka_unit_test(learning_again_changes_nothing),
        cmocka_unit_test(what_is_written_reads_back_and_comments_stay),
        cmocka_unit_test(too_few_brews_write_nothing),
        cmocka_unit_test(want_of_memory_is_told),
    };
    return cmocka_run_group_tests_name("learn", tests, set_up, tear_down);
}
