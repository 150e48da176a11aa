/*
 * Worked examples from print, forwards and backwards. Forwards: the example's weights give its
 * figures. Backwards: its figures and shares are the target, its ingredients the store, and its
 * weights must come back.
 *
 * They come back to a step of the scale and to what the example's own rounding leaves open, which
 * each row states as a part of the weight: `slack`. Three things recur. The examples add gravity
 * points where this library adds extract, and a point of gravity is worth 0.4 % less extract at
 * 1.040 than sucrose's 46.21 says, 0.6 % more at 1.086. An efficiency to a whole per cent is 0.7 %
 * of a weight. And they take utilisation at the gravity before the boil, this library at the mean
 * over the boil: hop weights are compared after moving the printed ones by the ratio of the two
 * utilisations.
 */
#include "support/test.h"

#include "support/kitchen.h"
#include "wortfit/solve.h"

#define LB     WF_KG_PER_LB
#define OZ     (1000 * WF_KG_PER_OZ) /* g */
#define GAL    WF_L_PER_US_GAL
#define PPG(x) ((x) / WF_SUCROSE_PPG)

/* ---- Examples of grists ---------------------------------------------------------------------- */

struct malt_row {
    const char *id;
    double kg, yield;
    bool extract; /* dissolved, not mashed */
};

static struct grist_row {
    const char *name, *source, *why;
    double batch_l, efficiency, og, slack;
    struct malt_row malts[KITCHEN_MALTS_MOST];
} grist_rows[] = {
    {"apa of 28 L",
     "hand calculation on a brewing club's forum, pale ale of 28 L",
     "points; 36 ppg taken as 301 for 300.4",
     28,
     0.78,
     1.050,
     0.008,
     {{"pils", 4.35, PPG(36), false},
      {"munich", 0.537, PPG(36), false},
      {"oat", 0.537, PPG(36), false},
      {"caramel", 0.537, PPG(36), false}}},
    {"shares of gravity",
     "gravity-share method after R. Daniels, worked on a brewer's web page",
     "points; a pound of 1/2.2 kg",
     5 * GAL,
     0.75,
     1.050,
     0.006,
     {{"pale", 3.620, PPG(36), false}, {"crystal", 0.684, PPG(31), false}}},
    {"dark mild of five barrels",
     "T. Hennessy, Calculating a Brew (web page)",
     "the first weight is printed, the others follow by its rule; 134 lb for 134.45",
     586.7,
     0.90,
     1.0400,
     0.008,
     {{"two-row", 162 * LB, 0.66, false},
      {"pale", 15.8 * LB, 0.66, false},
      {"dextrin", 11.6 * LB, 0.64, false},
      {"biscuit", 11.6 * LB, 0.64, false},
      {"crystal", 11.6 * LB, 0.64, false},
      {"chocolate", 10.8 * LB, 0.55, false},
      {"black", 5.4 * LB, 0.55, false}}},
    {"Bitter 2",
     "Bitter 2, worked after G. Noonan, Understanding Malt Analysis Sheets",
     "points; efficiency to 0.1 %",
     2.5 * GAL,
     0.777,
     1.043,
     0.006,
     {{"pale", 3 * LB, PPG(35.7), false}, {"crystal", 1 * LB, PPG(31.3), false}}},
    {"extract and grain",
     "Uchima, Gravity (web page)",
     "points",
     5 * GAL,
     0.70,
     1.0585,
     0.006,
     {{"dry-extract", 6 * LB, PPG(45), true}, {"crystal", 1 * LB, PPG(32), false}}},
    {"as brewed",
     "J. Bergsman, recipe formulation (web page)",
     "points; efficiency of 73 %",
     5 * GAL,
     0.73,
     1.055,
     0.013,
     {{"pale", 10 * LB, PPG(35), false}, {"crystal", 1 * LB, PPG(24), false}}},
    {"Viking Ale",
     "T. Dennis, Viking Ale (web page)",
     "points",
     5 * GAL,
     0.70,
     1.0636,
     0.006,
     {{"two-row", 10 * LB, PPG(37), false},
      {"munich", 1 * LB, PPG(33), false},
      {"dextrin", 1 * LB, PPG(34), false},
      {"crystal", 0.5 * LB, PPG(34), false}}},
    {"Daily Double IPA",
     "T. Dennis, Daily Double IPA (web page)",
     "points, at 1.086",
     5 * GAL,
     0.70,
     1.0863,
     0.009,
     {{"pale", 14 * LB, PPG(37), false},
      {"munich", 1 * LB, PPG(37), false},
      {"aromatic", 0.75 * LB, PPG(36), false},
      {"biscuit", 0.5 * LB, PPG(35), false},
      {"dextrin", 0.25 * LB, PPG(34), false},
      {"crystal-light", 0.125 * LB, PPG(34), false},
      {"crystal-medium", 0.125 * LB, PPG(34), false}}},
    {"five kilograms",
     "metric gravity points, worked on a home-brewing forum",
     "points; 74 to 75 % printed",
     23,
     0.745,
     1.050,
     0.012,
     {{"pale", 5, 309 / WF_SUCROSE_POINTS_L, false}}},
    {"six and a half pounds",
     "J. Palmer, How to Brew, ch. 12.5, from memory",
     "points; gravity and efficiency to two digits",
     6 * GAL,
     0.76,
     1.038,
     0.016,
     {{"two-row", 6.5 * LB, PPG(37), false},
      {"chocolate", 0.5 * LB, PPG(28), false},
      {"crystal", 0.5 * LB, PPG(34), false},
      {"dextrin", 0.5 * LB, PPG(32), false},
      {"roast-barley", 0.5 * LB, PPG(25), false}}},
};

/* ---- Examples of hops ------------------------------------------------------------------------ */

static struct hop_row {
    const char *name, *source;
    enum wf_utilisation_law law;
    double batch_l, before, after; /* gravities before and after the boil */
    double taken;                  /* gravity that the source takes utilisation at; 0: the mean */
    double utilisation;            /* that it takes from a table instead; 0: by the law */
    double alpha, grams, minutes, ibu;
    double rounding; /* of the printed bitterness */
} hop_rows[] = {
    {"brew A", "J. Hosom, IBU Measured and Modelled (web article 12), case A", WF_TINSETH, 5.64,
     1.042, 1.05986, 0, 0, 0.0579, 17, 60, 40.0, 0.1},
    {"brew B", "J. Hosom, web article 12, case B", WF_TINSETH, 5.83, 1.0425, 1.05891, 0, 0, 0.0579,
     17, 40, 34.0, 0.1},
    {"brew C", "J. Hosom, web article 12, case C", WF_TINSETH, 5.45, 1.042, 1.06337, 0, 0, 0.0579,
     17, 20, 24.7, 0.1},
    {"brew D", "J. Hosom, web article 12, case D", WF_TINSETH, 5.38, 1.042, 1.06417, 0, 0, 0.0579,
     17, 10, 14.9, 0.1},
    {"Viking Ale, 60 min", "T. Dennis, Viking Ale (web page)", WF_TINSETH, 5 * GAL, 1.0530, 1.0636,
     1.053, 0, 0.07, 1 * OZ, 60, 23.6, 0.1},
    {"Viking Ale, 20 min", "T. Dennis, Viking Ale (web page)", WF_TINSETH, 5 * GAL, 1.0530, 1.0636,
     1.053, 0, 0.053, 1.25 * OZ, 20, 13.5, 0.1},
    {"Viking Ale, 5 min", "T. Dennis, Viking Ale (web page)", WF_TINSETH, 5 * GAL, 1.0530, 1.0636,
     1.053, 0, 0.134, 0.5 * OZ, 5, 4.5, 0.1},
    {"Daily Double IPA, first wort", "T. Dennis, Daily Double IPA (web page)", WF_TINSETH, 5 * GAL,
     1.0719, 1.0863, 1.072, 0, 0.122, 0.5 * OZ, 90, 18.5, 0.1},
    {"Daily Double IPA, 75 min", "T. Dennis, Daily Double IPA (web page)", WF_TINSETH, 5 * GAL,
     1.0719, 1.0863, 1.072, 0, 0.095, 0.5 * OZ, 75, 14.1, 0.1},
    {"Daily Double IPA, 60 min", "T. Dennis, Daily Double IPA (web page)", WF_TINSETH, 5 * GAL,
     1.0719, 1.0863, 1.072, 0, 0.095, 0.5 * OZ, 60, 13.5, 0.1},
    {"Daily Double IPA, 10 min", "T. Dennis, Daily Double IPA (web page)", WF_TINSETH, 5 * GAL,
     1.0719, 1.0863, 1.072, 0, 0.095, 0.5 * OZ, 10, 4.9, 0.1},
    {"extract beer, 60 min", "J. Palmer, How to Brew, ch. 5.5", WF_TINSETH, 5 * GAL, 1.042, 1.048,
     1.080, 0, 0.064, 1.5 * OZ, 60, 25, 0.5},
    {"extract beer, 15 min", "J. Palmer, How to Brew, ch. 5.5", WF_TINSETH, 5 * GAL, 1.042, 1.048,
     1.080, 0, 0.046, 1 * OZ, 15, 6, 0.5},
    {"40 IBU of 8.5 %", "T. Babinec, after the hop issue of Zymurgy 13(4), 1990", WF_RAGER, 18.9,
     1.042, 1.048, 0, 0.30, 0.085, 29.65, 60, 40, 0.1},
};

/* ---- Swaps of one hop for another ------------------------------------------------------------ */

static struct swap_row {
    const char *name, *source;
    double grams, alpha, other_alpha, other_grams;
} swap_rows[] = {
    {"40 g of 7.6 % by 5.7 %", "table of hop substitutes of a hop grower (web page)", 40, 0.076,
     0.057, 53},
    {"30 g of 6.5 % by 7 %", "club's page on hop arithmetic (web page)", 30, 0.065, 0.07, 28},
};

/* ---- Solving ----------------------------------------------------------------------------------
 */

static struct wf_recipe *solve(const struct kitchen *k)
{
    const struct wf_solve_options o = {
        .goals = {WF_GOAL_CLOSEST}, .goal_count = 1, .seconds = 10, .today = WF_NO_DATE};
    struct wf_error e = {0};
    struct wf_recipe *r = NULL;
    enum wf_status status = wf_solve(&k->target, &k->store, &k->brewhouse, &o, &r, &e);
    if (status != WF_OK)
        print_error("%s\n", e.text);
    assert_int_equal(status, WF_OK);
    return r;
}

/* ---- Grists ---------------------------------------------------------------------------------- */

static size_t count_malts(const struct grist_row *row)
{
    size_t count = 0;
    while (count < KITCHEN_MALTS_MOST && row->malts[count].id != NULL)
        count++;
    return count;
}

static void check_grist_forwards(const struct grist_row *row)
{
    const struct wf_kettle kettle = {.batch_l = row->batch_l, .efficiency = row->efficiency};
    struct wf_grain grains[KITCHEN_MALTS_MOST];
    struct wf_beer beer;
    double kg[KITCHEN_MALTS_MOST];
    size_t count = count_malts(row);
    for (size_t i = 0; i < count; i++) {
        const struct malt_row *m = &row->malts[i];
        grains[i] = (struct wf_grain){
            .yield = m->yield, .lovibond = 2, .fermentability = 1, .mashed = !m->extract};
        kg[i] = m->kg;
    }
    assert_int_equal(
        wf_beer_predict(&kettle, grains, kg, count, NULL, NULL, 0, (double)NAN, &beer, NULL),
        WF_OK);
    assert_close(wf_points(beer.og), wf_points(row->og), row->slack * wf_points(row->og));
}

static void grist_comes_back(void **state)
{
    const struct grist_row *row = *state;
    size_t count = count_malts(row);
    double total = 0;
    struct kitchen k;
    check_grist_forwards(row);
    kitchen_set_up(&k, row->batch_l, row->efficiency);
    for (size_t i = 0; i < count; i++)
        total += row->malts[i].kg;
    k.target.og = kitchen_around(row->og, 0.0003);
    for (size_t i = 0; i < count; i++) {
        kitchen_add_malt(&k, row->malts[i].id, row->malts[i].yield, !row->malts[i].extract);
        kitchen_add_share(&k, row->malts[i].id, row->malts[i].kg / total,
                          k.brewhouse.step_malt_kg / total);
    }
    struct wf_recipe *r = solve(&k);
    assert_int_equal(r->malt_count, count);
    for (size_t i = 0; i < count; i++) {
        const struct malt_row *want = &row->malts[i];
        const struct wf_recipe_malt *got = r->malts;
        while (strcmp(got->id, want->id) != 0)
            got++;
        assert_close(got->kg, want->kg, row->slack * want->kg + 2 * k.brewhouse.step_malt_kg);
    }
    wf_recipe_free(r);
}

/* ---- Hops ------------------------------------------------------------------------------------ */

/* Water that the boil must lose for its two gravities. */
static double evaporation(const struct hop_row *row, double boil_minutes)
{
    double before, after;
    assert_int_equal(wf_extract_from_gravity(row->before, &before), WF_OK);
    assert_int_equal(wf_extract_from_gravity(row->after, &after), WF_OK);
    return row->batch_l * (after / before - 1) * 60 / boil_minutes;
}

/* The printed weight at the utilisation of this library's mean gravity. */
static double moved_grams(const struct hop_row *row)
{
    double ours, theirs = row->utilisation, mean = (row->before + row->after) / 2;
    assert_int_equal(wf_utilisation(row->law, mean, row->minutes, &ours), WF_OK);
    if (theirs <= 0)
        assert_int_equal(
            wf_utilisation(row->law, row->taken > 0 ? row->taken : mean, row->minutes, &theirs),
            WF_OK);
    return row->grams * theirs / ours;
}

static void hops_come_back(void **state)
{
    const struct hop_row *row = *state;
    struct kitchen k;
    kitchen_set_up(&k, row->batch_l, 0.75);
    kitchen_add_malt(&k, "pale", 0.8, true);
    kitchen_add_hop(&k, "hop", row->alpha);
    kitchen_add_slot(&k, row->minutes);
    k.brewhouse.law = row->law;
    k.brewhouse.evaporation_l_h = evaporation(row, k.brewhouse.boil_minutes);
    k.target.og = kitchen_around(row->after, 0.0002);
    k.target.bitterness = kitchen_around(row->ibu, row->rounding);
    struct wf_recipe *r = solve(&k);
    double want = moved_grams(row);
    assert_int_equal(r->hop_count, 1);
    assert_close(r->predicted.boil_gravity, (row->before + row->after) / 2, 0.0002);
    assert_close(r->hops[0].grams, want, want * (row->rounding / row->ibu + 0.002) + 0.1);
    wf_recipe_free(r);
}

/* The bitterness of so much of one hop, from another. */
static void hop_is_swapped(void **state)
{
    const struct swap_row *row = *state;
    struct kitchen k;
    kitchen_set_up(&k, 20, 0.75);
    k.brewhouse.step_hop_g = k.brewhouse.least_hop_g = 1;
    kitchen_add_malt(&k, "pale", 0.8, true);
    kitchen_add_hop(&k, "first", row->alpha);
    kitchen_add_slot(&k, 60);
    k.target.og = kitchen_around(1.050, 0.0001);
    k.slot.dosed = true;
    k.slot.dose = kitchen_around(row->grams / 20, 0);
    struct wf_recipe *first = solve(&k);
    k.slot.dosed = false;
    k.slot.dose = wf_range_any();
    k.hops[0].alpha = row->other_alpha;
    k.target.bitterness = kitchen_around(first->predicted.ibu, 1);
    struct wf_recipe *other = solve(&k);
    assert_close(first->hops[0].grams, row->grams, 1e-9);
    assert_close(other->hops[0].grams, row->other_grams, 1e-9);
    wf_recipe_free(first);
    wf_recipe_free(other);
}

int main(void)
{
    struct CMUnitTest tests[COUNT_OF(grist_rows) + COUNT_OF(hop_rows) + COUNT_OF(swap_rows)] = {0};
    size_t n = 0;
    for (size_t i = 0; i < COUNT_OF(grist_rows); i++)
        tests[n++] = (struct CMUnitTest){.name = grist_rows[i].name,
                                         .test_func = grist_comes_back,
                                         .initial_state = &grist_rows[i]};
    for (size_t i = 0; i < COUNT_OF(hop_rows); i++)
        tests[n++] = (struct CMUnitTest){
            .name = hop_rows[i].name, .test_func = hops_come_back, .initial_state = &hop_rows[i]};
    for (size_t i = 0; i < COUNT_OF(swap_rows); i++)
        tests[n++] = (struct CMUnitTest){
            .name = swap_rows[i].name, .test_func = hop_is_swapped, .initial_state = &swap_rows[i]};
    return _cmocka_run_group_tests("backwards", tests, n, NULL, NULL) != 0;
}
