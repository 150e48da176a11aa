/*
 * Ranges: each error alone has a range that can be worked out on paper; together they are held
 * against many brews drawn by another generator.
 */
#include "support/test.h"

#include "support/dice.h"
#include "support/memory.h"

#include "wortfit/sure.h"

/* Standard normal quantiles as statistical tables print them: M. Abramowitz, I. Stegun, Handbook of
 * Mathematical Functions, 1964, table 26.5 (from memory). */
#define Z_950 1.64485363
#define Z_975 1.95996398
#define Z_995 2.57582930

/* ---- A recipe -------------------------------------------------------------------------------- */

struct brew {
    struct wf_recipe r;
    struct wf_recipe_malt malts[3];
    struct wf_recipe_hop hops[2];
};

static const struct wf_recipe_malt pale = {.id = "pale",
                                           .name = "pale",
                                           .grain = {0.8, 2.5, 70, 1, false, true},
                                           .kg = 4.5,
                                           .usual_most = 1};
static const struct wf_recipe_malt crystal = {.id = "crystal",
                                              .name = "crystal",
                                              .grain = {0.74, 60, 0, 0.74, false, true},
                                              .kg = 0.4,
                                              .usual_most = 0.2};
static const struct wf_recipe_malt sugar = {
    .id = "sugar", .name = "sugar", .grain = {1, 0, 0, 1, true, false}, .kg = 2, .usual_most = 1};
static const struct wf_recipe_hop early = {
    .id = "magnum", .name = "magnum", .addition = {WF_HOP_BOIL, 0.13, 60, 0, 1}, .grams = 15};
static const struct wf_recipe_hop late = {
    .id = "cascade", .name = "cascade", .addition = {WF_HOP_BOIL, 0.06, 60, 0, 1}, .grams = 32.5};

/* Malts and hops may be NULL. */
static void make(struct brew *b, const struct wf_recipe_malt *first,
                 const struct wf_recipe_malt *second, const struct wf_recipe_hop *hop,
                 const struct wf_recipe_hop *other)
{
    const struct wf_recipe_malt *malts[] = {first, second};
    const struct wf_recipe_hop *hops[] = {hop, other};
    *b = (struct brew){.r = {.arena = wf_arena_new(),
                             .name = "brew",
                             .malts = b->malts,
                             .hops = b->hops,
                             .yeast = {.id = "ale", .attenuation = 0.75},
                             .kettle = {.batch_l = 20,
                                        .efficiency = 0.75,
                                        .boil_minutes = 60,
                                        .evaporation_l_h = 3,
                                        .law = WF_TINSETH}}};
    for (int i = 0; i < 2; i++) {
        if (malts[i] != NULL)
            b->malts[b->r.malt_count++] = *malts[i];
        if (hops[i] != NULL)
            b->hops[b->r.hop_count++] = *hops[i];
    }
    assert_int_equal(wf_recipe_predict(&b->r, NULL), WF_OK);
}

static const struct wf_ranges *ranges_at(struct brew *b, struct wf_spread s, double probability)
{
    assert_int_equal(wf_recipe_add_ranges(&b->r, NULL, &s, probability, NULL), WF_OK);
    return b->r.ranges;
}

static const struct wf_ranges *ranges_of(struct brew *b, struct wf_spread s)
{
    return ranges_at(b, s, 0.9);
}

static void unmake(struct brew *b)
{
    wf_arena_free(b->r.arena);
}

static void check_still(double low, double high, double middle)
{
    assert_close(low, middle, 1e-12);
    assert_close(high, middle, 1e-12);
}

/* A range that is the middle times or by (1 + spread)^z. */
static void check_factor(double low, double high, double middle, double spread, double z)
{
    double room = 5e-5 * middle; /* between two strata the quantile is interpolated */
    assert_close(high, middle * pow(1 + spread, z), room);
    assert_close(low, middle * pow(1 + spread, -z), room);
}

/* ---- One error at a time --------------------------------------------------------------------- */

static void without_errors_all_is_as_said(void **state)
{
    (void)state;
    struct brew b;
    make(&b, &pale, &crystal, &early, &late);
    const struct wf_ranges *g = ranges_of(&b, (struct wf_spread){0});
    const struct wf_beer *m = &b.r.predicted;
    assert_close(g->probability, 0.9, 0);
    check_still(g->low.og, g->high.og, m->og);
    check_still(g->low.fg, g->high.fg, m->fg);
    check_still(g->low.plato, g->high.plato, m->plato);
    check_still(g->low.abv, g->high.abv, m->abv);
    check_still(g->low.srm, g->high.srm, m->srm);
    check_still(g->low.ebc, g->high.ebc, m->ebc);
    check_still(g->low.ibu, g->high.ibu, m->ibu);
    check_still(g->low.ratio, g->high.ratio, m->ratio);
    check_still(g->low.attenuation, g->high.attenuation, m->attenuation);
    assert_true(isnan(g->low.lintner) && isnan(g->high.boil_gravity));
    assert_true(isnan(g->each) && isnan(g->all));
    unmake(&b);
}

static void colour_alone(void **state)
{
    (void)state;
    static const struct {
        double probability, z;
    } rows[] = {{0.9, Z_950}, {0.95, Z_975}, {0.99, Z_995}};
    struct brew b;
    make(&b, &pale, &crystal, &early, NULL);
    for (size_t i = 0; i < COUNT_OF(rows); i++) {
        const struct wf_ranges *g =
            ranges_at(&b, (struct wf_spread){.colour = 0.08}, rows[i].probability);
        check_factor(g->low.srm, g->high.srm, b.r.predicted.srm, 0.08, rows[i].z);
        check_factor(g->low.ebc, g->high.ebc, b.r.predicted.ebc, 0.08, rows[i].z);
        check_still(g->low.og, g->high.og, b.r.predicted.og);
        check_still(g->low.ibu, g->high.ibu, b.r.predicted.ibu);
    }
    unmake(&b);
}

static void utilisation_alone(void **state)
{
    (void)state;
    struct brew b;
    make(&b, &pale, &crystal, &early, &late);
    const struct wf_ranges *g = ranges_of(&b, (struct wf_spread){.utilisation = 0.1});
    check_factor(g->low.ibu, g->high.ibu, b.r.predicted.ibu, 0.1, Z_950);
    check_factor(g->low.ratio, g->high.ratio, b.r.predicted.ratio, 0.1, Z_950);
    check_still(g->low.srm, g->high.srm, b.r.predicted.srm);
    check_still(g->low.fg, g->high.fg, b.r.predicted.fg);
    unmake(&b);
}

static double gravity_of(double kg_per_l)
{
    double sg;
    assert_int_equal(wf_gravity_from_extract(kg_per_l, &sg), WF_OK);
    return sg;
}

static void efficiency_alone(void **state)
{
    (void)state;
    struct brew b;
    make(&b, &pale, &crystal, &early, NULL);
    const struct wf_ranges *g = ranges_of(&b, (struct wf_spread){.efficiency = 0.03});
    double extract = 0.75 * (4.5 * 0.8 + 0.4 * 0.74) / 20, factor = pow(1.03, Z_950);
    assert_close(g->high.og, gravity_of(extract * factor), 1e-6);
    assert_close(g->low.og, gravity_of(extract / factor), 1e-6);
    check_still(g->low.srm, g->high.srm, b.r.predicted.srm);
    check_still(g->low.attenuation, g->high.attenuation, b.r.predicted.attenuation);
    /* More extract, less utilisation. */
    assert_true(g->low.ibu < b.r.predicted.ibu && g->high.ibu > b.r.predicted.ibu);
    unmake(&b);
}

/* Only the mashed part of the extract moves, and no efficiency passes 1. */
static void sugar_is_as_said(void **state)
{
    (void)state;
    const struct wf_spread s = {.efficiency = 0.05, .extract = 0.05};
    struct brew b;
    make(&b, &sugar, NULL, NULL, NULL);
    const struct wf_ranges *g = ranges_of(&b, s);
    check_still(g->low.og, g->high.og, b.r.predicted.og);
    unmake(&b);
    make(&b, &pale, NULL, NULL, NULL);
    b.r.kettle.efficiency = 1;
    assert_int_equal(wf_recipe_predict(&b.r, NULL), WF_OK);
    g = ranges_of(&b, (struct wf_spread){.efficiency = 0.05});
    assert_close(g->high.og, b.r.predicted.og, 1e-12);
    assert_true(g->low.og < b.r.predicted.og - 0.002);
    unmake(&b);
}

static void attenuation_alone(void **state)
{
    (void)state;
    struct brew b, end;
    make(&b, &pale, &crystal, &early, NULL);
    const struct wf_ranges *g = ranges_of(&b, (struct wf_spread){.attenuation = 0.03});
    make(&end, &pale, &crystal, &early, NULL);
    end.r.yeast.attenuation = 0.75 * pow(1.03, Z_950);
    assert_int_equal(wf_recipe_predict(&end.r, NULL), WF_OK);
    assert_close(g->low.fg, end.r.predicted.fg, 1e-6);
    assert_close(g->high.abv, end.r.predicted.abv, 1e-6);
    assert_close(g->high.attenuation, end.r.predicted.attenuation, 1e-5);
    end.r.yeast.attenuation = 0.75 * pow(1.03, -Z_950);
    assert_int_equal(wf_recipe_predict(&end.r, NULL), WF_OK);
    assert_close(g->high.fg, end.r.predicted.fg, 1e-6);
    check_still(g->low.og, g->high.og, b.r.predicted.og);
    unmake(&b);
    unmake(&end);
}

static void no_yeast_no_final_gravity(void **state)
{
    (void)state;
    struct brew b;
    make(&b, &pale, NULL, &early, NULL);
    b.r.yeast.attenuation = (double)NAN;
    assert_int_equal(wf_recipe_predict(&b.r, NULL), WF_OK);
    const struct wf_ranges *g = ranges_of(&b, (struct wf_spread){.efficiency = 0.03});
    assert_true(isnan(g->low.fg) && isnan(g->high.abv) && isnan(g->low.attenuation));
    assert_true(g->low.og < g->high.og);
    unmake(&b);
}

/* Half the width of a range, in logarithms. */
static double log_width(double low, double high)
{
    return log(high / low) / 2;
}

/* Two lots that each give half: their errors are apart, so together they are off by less, by the
 * square root of 2. One lot in two additions is off as one. */
static void lots_err_apart(void **state)
{
    (void)state;
    const struct wf_spread s = {.alpha = 0.1};
    struct brew b;
    make(&b, &pale, NULL, &early, NULL);
    const struct wf_ranges *g = ranges_of(&b, s);
    double one = log_width(g->low.ibu, g->high.ibu);
    assert_close(one, Z_950 * log(1.1), 1e-4);
    unmake(&b);
    make(&b, &pale, NULL, &early, &late);
    g = ranges_of(&b, s);
    assert_close(log_width(g->low.ibu, g->high.ibu), one / sqrt(2), 0.05 * one);
    unmake(&b);
    make(&b, &pale, NULL, &early, &early);
    g = ranges_of(&b, s);
    assert_close(log_width(g->low.ibu, g->high.ibu), one, 1e-9);
    unmake(&b);
}

/* ---- All together ---------------------------------------------------------------------------- */

static const struct wf_spread usual = {.efficiency = 0.03,
                                       .extract = 0.01,
                                       .colour = 0.08,
                                       .alpha = 0.10,
                                       .utilisation = 0.10,
                                       .attenuation = 0.03};

/* By G. Box and M. Muller, Annals of Mathematical Statistics 29, 1958. */
static double normal(struct dice *d)
{
    double u = (double)(dice_next(d) >> 11) * 0x1p-53, v = (double)(dice_next(d) >> 11) * 0x1p-53;
    return sqrt(-2 * log(1 - u)) * cos(6.28318530717958648 * v);
}

static double off(struct dice *d, double spread)
{
    return pow(1 + spread, normal(d));
}

static void brew_once(struct dice *d, const struct brew *b, struct wf_beer *beer)
{
    struct wf_kettle k = b->r.kettle;
    struct wf_grain grains[2];
    struct wf_addition additions[2];
    double kg[2], grams[2];
    k.efficiency *= off(d, usual.efficiency);
    for (int i = 0; i < 2; i++) {
        grains[i] = b->malts[i].grain;
        grains[i].yield *= off(d, usual.extract);
        kg[i] = b->malts[i].kg;
        additions[i] = b->hops[i].addition;
        additions[i].alpha *= off(d, usual.alpha);
        grams[i] = b->hops[i].grams;
    }
    assert_int_equal(wf_beer_predict(&k, grains, kg, 2, additions, grams, 2,
                                     b->r.yeast.attenuation * off(d, usual.attenuation), beer,
                                     NULL),
                     WF_OK);
    beer->srm *= off(d, usual.colour);
    beer->ibu *= off(d, usual.utilisation);
}

static void nine_brews_in_ten_end_in_their_range(void **state)
{
    (void)state;
    enum { BREWS = 20000 };
    struct dice d = {.state = 2026};
    struct brew b;
    double in[5] = {0};
    make(&b, &pale, &crystal, &early, &late);
    const struct wf_beer low = ranges_of(&b, usual)->low, high = b.r.ranges->high;
    for (int n = 0; n < BREWS; n++) {
        struct wf_beer x;
        brew_once(&d, &b, &x);
        in[0] += x.og >= low.og && x.og <= high.og;
        in[1] += x.fg >= low.fg && x.fg <= high.fg;
        in[2] += x.abv >= low.abv && x.abv <= high.abv;
        in[3] += x.srm >= low.srm && x.srm <= high.srm;
        in[4] += x.ibu >= low.ibu && x.ibu <= high.ibu;
    }
    for (int i = 0; i < 5; i++) /* the count's own error is 0.002, an end's some 0.005 */
        assert_close(in[i] / BREWS, 0.9, 0.015);
    unmake(&b);
}

static void the_same_recipe_has_the_same_ranges(void **state)
{
    (void)state;
    struct brew b, turned;
    make(&b, &pale, &crystal, &early, &late);
    struct wf_ranges first = *ranges_of(&b, usual), second = *ranges_of(&b, usual);
    assert_memory_equal(&first.low, &second.low, sizeof first.low);
    assert_memory_equal(&first.high, &second.high, sizeof first.high);
    make(&turned, &crystal, &pale, &late, &early);
    const struct wf_ranges *g = ranges_of(&turned, usual);
    assert_close(g->low.og, first.low.og, 1e-12);
    assert_close(g->high.ibu, first.high.ibu, 1e-9);
    unmake(&b);
    unmake(&turned);
}

static void surer_ranges_hold_less_sure_ones(void **state)
{
    (void)state;
    struct brew b;
    struct wf_ranges last;
    make(&b, &pale, &crystal, &early, &late);
    last = *ranges_at(&b, usual, 0.01);
    for (double p = 0.1; p < 1; p += 0.1) {
        struct wf_ranges g = *ranges_at(&b, usual, p);
        assert_true(g.low.og < last.low.og && g.high.og > last.high.og);
        assert_true(g.low.srm < last.low.srm && g.high.srm > last.high.srm);
        assert_true(g.low.abv < last.low.abv && g.high.abv > last.high.abv);
        last = g;
    }
    unmake(&b);
}

/* ---- How sure -------------------------------------------------------------------------------- */

static struct wf_target no_wishes(void)
{
    const struct wf_range any = wf_range_any();
    return (struct wf_target){
        .og = any, .colour = any, .ratio = any, .bitterness = any, .fg = any, .abv = any};
}

static void sureness_is_that_of_the_wishes(void **state)
{
    (void)state;
    struct wf_target t = no_wishes();
    struct brew b;
    make(&b, &pale, &crystal, &early, &late);
    struct wf_ranges g = *ranges_of(&b, usual);
    t.colour = (struct wf_range){g.low.srm, g.high.srm, (double)NAN};
    assert_int_equal(wf_recipe_add_ranges(&b.r, &t, &usual, 0.5, NULL), WF_OK);
    assert_close(b.r.ranges->each, 0.9, 0.002);
    assert_close(b.r.ranges->all, 0.9, 0.002);
    /* The side on which more is left out counts, twice. */
    t.colour.high = (double)INFINITY;
    assert_int_equal(wf_recipe_add_ranges(&b.r, &t, &usual, 0.5, NULL), WF_OK);
    assert_close(b.r.ranges->each, 0.9, 0.002);
    assert_close(b.r.ranges->all, 0.95, 0.002);
    /* Colour and bitterness have no error in common. */
    t.bitterness = (struct wf_range){-(double)INFINITY, b.r.predicted.ibu, (double)NAN};
    assert_int_equal(wf_recipe_add_ranges(&b.r, &t, &usual, 0.5, NULL), WF_OK);
    assert_close(b.r.ranges->each, 0, 0.03);
    assert_close(b.r.ranges->all, 0.95 * 0.5, 0.03);
    t.bitterness.high = b.r.predicted.ibu / 3;
    assert_int_equal(wf_recipe_add_ranges(&b.r, &t, &usual, 0.5, NULL), WF_OK);
    assert_close(b.r.ranges->each, 0, 0);
    assert_close(b.r.ranges->all, 0, 0);
    unmake(&b);
}

static void too_strong_for_the_laws(void **state)
{
    (void)state;
    struct brew b;
    struct wf_error e = {0};
    make(&b, &pale, NULL, NULL, NULL);
    b.malts[0].kg = 12.3;
    assert_int_equal(wf_recipe_predict(&b.r, NULL), WF_OK);
    assert_true(b.r.predicted.og > 1.13 && b.r.predicted.og < WF_GRAVITY_MOST);
    assert_int_equal(wf_recipe_add_ranges(&b.r, NULL, &usual, 0.9, &e), WF_OUT_OF_RANGE);
    assert_null(b.r.ranges);
    assert_non_null(strstr(e.text, "some brews"));
    unmake(&b);
}

static enum wf_status add_usual(void *data, struct wf_error *e)
{
    struct brew *b = data;
    return wf_recipe_add_ranges(&b->r, NULL, &usual, 0.9, e);
}

static void out_of_memory(void **state)
{
    (void)state;
    struct brew b;
    make(&b, &pale, &crystal, &early, &late);
    check_out_of_memory(add_usual, &b, 8, 1);
    unmake(&b);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(without_errors_all_is_as_said),
        cmocka_unit_test(colour_alone),
        cmocka_unit_test(utilisation_alone),
        cmocka_unit_test(efficiency_alone),
        cmocka_unit_test(sugar_is_as_said),
        cmocka_unit_test(attenuation_alone),
        cmocka_unit_test(no_yeast_no_final_gravity),
        cmocka_unit_test(lots_err_apart),
        cmocka_unit_test(nine_brews_in_ten_end_in_their_range),
        cmocka_unit_test(the_same_recipe_has_the_same_ranges),
        cmocka_unit_test(surer_ranges_hold_less_sure_ones),
        cmocka_unit_test(sureness_is_that_of_the_wishes),
        cmocka_unit_test(too_strong_for_the_laws),
        cmocka_unit_test(out_of_memory),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
