/*
 * Scaling recipes drawn by chance between systems drawn by chance. The exact weights are reckoned
 * here once more, from shares and gravity; that the steps next to them are well chosen is held
 * against all other choices.
 */
#include "support/dice.h"
#include "support/test.h"
#include "support/with_catalogue.h"

#include "wortfit/wortfit.h"

#include <stdbool.h>

#define MALTS_MOST 7
#define HOPS_MOST  5

static struct wf_recipe *parse(const char *text)
{
    struct wf_recipe *r;
    wf_error_clear(&error);
    if (wf_recipe_parse("r.json", text, strlen(text), NULL, catalogue, &r, &error) != WF_OK)
        fail_msg("%s\n%s", error.text, text);
    return r;
}

static struct wf_recipe *scale(const struct wf_recipe *r, double batch_l,
                               const struct wf_brewhouse *b)
{
    const struct wf_scale_options o = {.batch_l = batch_l, .brewhouse = b};
    struct wf_recipe *scaled;
    wf_error_clear(&error);
    if (wf_recipe_scale(r, &o, &scaled, &error) != WF_OK)
        fail_msg("%s", error.text);
    return scaled;
}

static struct wf_brewhouse usual(void)
{
    struct wf_brewhouse b;
    wf_brewhouse_default(WF_UNITS_METRIC, &b);
    return b;
}

/* ---- Recipes by chance ----------------------------------------------------------------------- */

static double step_of(const struct wf_brewhouse *b, enum wf_malt_class c)
{
    return c == WF_CLASS_CARAMEL || c == WF_CLASS_ROAST ? b->step_specialty_kg : b->step_malt_kg;
}

static double extract_per_kg(const struct wf_recipe_malt *m, double efficiency)
{
    return m->grain.yield * (m->grain.mashed ? efficiency : 1);
}

static size_t dice_below(struct dice *d, size_t count)
{
    return (size_t)dice_whole(d, 0, (long)count - 1);
}

static double dice_unit(struct dice *d)
{
    return dice_decimal(d, 0, 1000, 1000);
}

static struct wf_brewhouse drawn_system(struct dice *d)
{
    static const double malt[] = {0.05, 0.1, 0.025}, specialty[] = {0.01, 0.005, 0.025},
                        hop[] = {1, 0.5, 2};
    struct wf_brewhouse b = usual();
    b.batch_l = 5 + 5 * (double)dice_below(d, 12);
    b.efficiency = 0.6 + 0.02 * (double)dice_below(d, 13);
    b.evaporation_l_h = (double)dice_below(d, 6);
    b.boil_minutes = 60 + 15 * (double)dice_below(d, 3);
    b.boil_given = true;
    b.step_malt_kg = malt[dice_below(d, COUNT_OF(malt))];
    b.step_specialty_kg = specialty[dice_below(d, COUNT_OF(specialty))];
    b.step_hop_g = hop[dice_below(d, COUNT_OF(hop))];
    return b;
}

/* A recipe of whole steps for the system, of about 1.035 to 1.075. */
static struct wf_recipe *drawn_recipe(struct dice *d, const struct wf_brewhouse *b)
{
    static const char *const at[] = {"first wort",        "60 min",    "30 min", "10 min",
                                     "stand 20 min 80 C", "dry 3 days"};
    char text[4096];
    int n = snprintf(text, sizeof text,
                     "{\"recipe\": \"x\", \"batch_l\": %g, \"kettle\": {\"efficiency\": %g,"
                     " \"boil_min\": %g, \"evaporation_l_h\": %g}, \"malts\": [",
                     b->batch_l, b->efficiency, b->boil_minutes, b->evaporation_l_h);
    size_t malts = 2 + dice_below(d, MALTS_MOST - 1), hops = 1 + dice_below(d, HOPS_MOST - 1);
    for (size_t i = 0; i < malts; i++) {
        const struct wf_malt *m =
            &catalogue->malts[i == 0 ? dice_below(d, 6) : dice_below(d, catalogue->malt_count)];
        double share = i == 0 ? 0.13 + 0.1 * dice_unit(d) : 0.012 * dice_unit(d);
        double step = step_of(b, m->class);
        n += snprintf(text + n, sizeof text - (size_t)n, "%s{\"id\": \"%s\", \"kg\": %.6f}",
                      i ? ", " : "", m->id, fmax(1, round(share * b->batch_l / step)) * step);
    }
    n += snprintf(text + n, sizeof text - (size_t)n, "], \"hops\": [");
    for (size_t i = 0; i < hops; i++) {
        const struct wf_hop *h = &catalogue->hops[dice_below(d, catalogue->hop_count)];
        double grams = fmax(1, round(1.5 * dice_unit(d) * b->batch_l / b->step_hop_g));
        n += snprintf(text + n, sizeof text - (size_t)n,
                      "%s{\"id\": \"%s\", \"g\": %.6f, \"at\": \"%s\"}", i ? ", " : "", h->id,
                      grams * b->step_hop_g, at[dice_below(d, COUNT_OF(at))]);
    }
    snprintf(text + n, sizeof text - (size_t)n, "]}");
    return parse(text);
}

/* ---- Against all other choices --------------------------------------------------------------- */

/* The grist's problem, reckoned from the recipe alone. */
struct grist {
    const struct wf_recipe *from;
    const struct wf_brewhouse *b;
    double batch_l, total, extract, mcu, extract_notch, mcu_notch;
    double exact[MALTS_MOST + 1], step[MALTS_MOST + 1];
};

static struct grist grist_of(const struct wf_recipe *r, const struct wf_brewhouse *b)
{
    struct grist g = {.from = r, .b = b, .batch_l = b->batch_l};
    double low, high, per_kg = 0;
    assert_int_equal(wf_extract_from_gravity(r->predicted.og, &low), WF_OK);
    assert_int_equal(wf_extract_from_gravity(r->predicted.og + 0.001, &high), WF_OK);
    g.extract = low * g.batch_l;
    g.extract_notch = (high - low) * g.batch_l;
    assert_int_equal(wf_mcu_from_srm(r->predicted.srm, &g.mcu), WF_OK);
    assert_int_equal(wf_mcu_from_srm(r->predicted.srm - 1, &low), WF_OK);
    g.mcu_notch = g.mcu - low;
    for (size_t i = 0; i < r->malt_count; i++)
        per_kg += r->malts[i].share * extract_per_kg(&r->malts[i], b->efficiency);
    g.total = g.extract / per_kg;
    for (size_t i = 0; i < r->malt_count; i++) {
        g.exact[i] = r->malts[i].share * g.total;
        g.step[i] = step_of(b, r->malts[i].class);
    }
    return g;
}

static double deviation(const struct grist *g, const double *kg)
{
    double sum = 0, extract = 0, lovibond = 0, mcu;
    for (size_t i = 0; i < g->from->malt_count; i++) {
        const struct wf_recipe_malt *m = &g->from->malts[i];
        sum += fabs(kg[i] - g->exact[i]) / (0.01 * g->total);
        extract += kg[i] * extract_per_kg(m, g->b->efficiency);
        lovibond += kg[i] * m->grain.lovibond;
    }
    assert_int_equal(wf_mcu_from_weights(lovibond, g->batch_l, &mcu), WF_OK);
    return sum + fabs(extract - g->extract) / g->extract_notch + fabs(mcu - g->mcu) / g->mcu_notch;
}

/* The least deviation over the steps below and above each exact weight. */
static double least_deviation(const struct grist *g)
{
    double least = (double)INFINITY, kg[MALTS_MOST + 1];
    size_t count = g->from->malt_count;
    for (unsigned choice = 0; choice < 1u << count; choice++) {
        for (size_t i = 0; i < count; i++) {
            double steps = g->exact[i] / g->step[i];
            double whole = choice >> i & 1 ? ceil(steps - 1e-6) : floor(steps + 1e-6);
            kg[i] = fmax(1, whole) * g->step[i];
        }
        least = fmin(least, deviation(g, kg));
    }
    return least;
}

static void no_other_steps_come_closer(void **state)
{
    struct dice d = {11};
    (void)state;
    for (int n = 0; n < 60; n++) {
        struct wf_brewhouse first = drawn_system(&d), second = drawn_system(&d);
        struct wf_recipe *r = drawn_recipe(&d, &first);
        if (r->predicted.srm > 1.5) { /* a notch of 1 SRM below it is one of real beers */
            struct wf_recipe *s = scale(r, second.batch_l, &second);
            struct grist g = grist_of(r, &second);
            double kg[MALTS_MOST + 1];
            for (size_t i = 0; i < s->malt_count; i++) {
                kg[i] = s->malts[i].kg;
                double room = fmax(g.step[i], fabs(g.step[i] - g.exact[i]));
                assert_true(fabs(kg[i] - g.exact[i]) < room + 1e-9);
                assert_close(kg[i] / g.step[i], round(kg[i] / g.step[i]), 1e-6);
            }
            assert_close(deviation(&g, kg), least_deviation(&g), 1e-6);
            wf_recipe_free(s);
        }
        wf_recipe_free(r);
    }
}

/* Each addition alone: within a step of the weight that keeps its bitterness, or its dose. */
static void hops_are_within_a_step(void **state)
{
    struct dice d = {12};
    (void)state;
    for (int n = 0; n < 60; n++) {
        struct wf_brewhouse first = drawn_system(&d), second = drawn_system(&d);
        struct wf_recipe *r = drawn_recipe(&d, &first), *s = scale(r, second.batch_l, &second);
        for (size_t i = 0; i < r->hop_count; i++) {
            const struct wf_recipe_hop *was = &r->hops[i], *is = &s->hops[i];
            bool early = was->addition.use == WF_HOP_FIRST_WORT ||
                         (was->addition.use == WF_HOP_BOIL && was->addition.minutes > 20);
            double exact = early ? is->grams * was->ibu / is->ibu
                                 : was->grams * second.batch_l / first.batch_l;
            double step = second.step_hop_g;
            assert_true(fabs(is->grams - exact) < fmax(step, fabs(step - exact)) + 1e-9);
        }
        wf_recipe_free(s);
        wf_recipe_free(r);
    }
}

/* ---- There and back -------------------------------------------------------------------------- */

/*
 * How far a weight may be off that went there and back: each time by less than a step of the scale
 * in use, so by a step at most where a step there is none larger in this system's weights.
 */
static double most_off(double here, double there, double ratio)
{
    return there * ratio <= here ? here : here + there * ratio;
}

static struct wf_recipe *through_a_file(struct wf_recipe *r)
{
    char *text;
    assert_int_equal(wf_report_recipe_json(r, &text, &error), WF_OK);
    struct wf_recipe *read = parse(text);
    wf_text_release(text);
    wf_recipe_free(r);
    return read;
}

static void there_and_back_is_the_same_recipe(void **state)
{
    struct dice d = {13};
    (void)state;
    for (int n = 0; n < 100; n++) {
        struct wf_brewhouse here = drawn_system(&d), there = drawn_system(&d);
        struct wf_recipe *r = drawn_recipe(&d, &here);
        there.boil_minutes = here.boil_minutes; /* else an addition is cut off for good */
        struct wf_recipe *s = through_a_file(scale(r, there.batch_l, &there));
        struct wf_recipe *back = scale(s, here.batch_l, &here);
        double ratio = here.batch_l / there.batch_l;
        double malt_ratio = ratio * there.efficiency / here.efficiency;
        for (size_t i = 0; i < r->malt_count; i++) {
            enum wf_malt_class c = r->malts[i].class;
            double step = most_off(step_of(&here, c), step_of(&there, c), fmax(ratio, malt_ratio));
            if (fabs(back->malts[i].kg - r->malts[i].kg) > step + 1e-9)
                fail_msg("%d: %s: %.3f kg came back as %.3f", n, r->malts[i].id, r->malts[i].kg,
                         back->malts[i].kg);
        }
        for (size_t i = 0; i < r->hop_count; i++) {
            double gain = r->hops[i].ibu > 0 ? r->hops[i].ibu / r->hops[i].grams /
                                                   (s->hops[i].ibu / s->hops[i].grams)
                                             : 1;
            double step = most_off(here.step_hop_g, there.step_hop_g, fmax(ratio, 1 / gain));
            if (fabs(back->hops[i].grams - r->hops[i].grams) > step + 1e-9)
                fail_msg("%d: %s: %.2f g came back as %.2f", n, r->hops[i].id, r->hops[i].grams,
                         back->hops[i].grams);
        }
        wf_recipe_free(back);
        wf_recipe_free(s);
        wf_recipe_free(r);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(no_other_steps_come_closer),
        cmocka_unit_test(hops_are_within_a_step),
        cmocka_unit_test(there_and_back_is_the_same_recipe),
    };
    return cmocka_run_group_tests(tests, set_up, tear_down) != 0;
}
