/* drawn_day.c: see drawn_day.h. */
#include "support/drawn_day.h"

#include "support/test.h"

/* ---- Drawing --------------------------------------------------------------------------------- */

static uint64_t seed = 20261125;

/* SplitMix64: G. Steele, D. Lea and C. Flood, OOPSLA 2014. */
static double draw(double low, double high)
{
    uint64_t z = seed += 0x9E3779B97F4A7C15u;
    z = (z ^ z >> 30) * 0xBF58476D1CE4E5B9u;
    z = (z ^ z >> 27) * 0x94D049BB133111EBu;
    z ^= z >> 31;
    return low + (high - low) * (double)(z >> 11) / 9007199254740992.0;
}

static bool chance(double share)
{
    return draw(0, 1) < share;
}

static void draw_malts(struct drawn *d, double kg)
{
    static const struct {
        enum wf_malt_class class;
        bool sugar, mashed;
        double yield, often;
    } kind[] = {
        {WF_CLASS_BASE, false, true, 0.78, 0.95},   {WF_CLASS_CARAMEL, false, true, 0.72, 0.5},
        {WF_CLASS_FLAKED, false, true, 0.70, 0.3},  {WF_CLASS_SUGAR, true, false, 1.00, 0.3},
        {WF_CLASS_OTHER, false, false, 0.95, 0.25}, {WF_CLASS_SUGAR, true, false, 0.78, 0.15},
    };
    struct wf_recipe *r = &d->recipe;
    for (size_t i = 0; i < COUNT_OF(kind); i++) {
        if (!chance(kind[i].often) && !(i + 1 == COUNT_OF(kind) && r->malt_count == 0))
            continue;
        struct wf_recipe_malt *m = &d->malts[r->malt_count++];
        *m = (struct wf_recipe_malt){.id = "malt", .name = "Malt", .class = kind[i].class};
        m->grain = (struct wf_grain){.yield = kind[i].yield,
                                     .lovibond = draw(1, 40),
                                     .lintner = 60,
                                     .fermentability = 1,
                                     .sugar = kind[i].sugar,
                                     .mashed = kind[i].mashed};
        m->kg = draw(0.05, 1) * kg * (i == 0 ? 1 : 0.2);
        m->usual_most = 1;
        m->cost = (double)NAN;
    }
}

static void draw_hops(struct drawn *d)
{
    static const enum wf_hop_use use[] = {WF_HOP_FIRST_WORT, WF_HOP_BOIL, WF_HOP_STAND, WF_HOP_DRY};
    struct wf_recipe *r = &d->recipe;
    for (size_t i = 0; i < COUNT_OF(use); i++) {
        if (!chance(0.6))
            continue;
        struct wf_recipe_hop *h = &d->hops[r->hop_count++];
        *h = (struct wf_recipe_hop){.id = "hop", .name = "Hop", .cost = (double)NAN};
        h->addition = (struct wf_addition){.use = use[i], .alpha = 0.08, .celsius = 80, .form = 1};
        h->addition.minutes = use[i] == WF_HOP_BOIL ? draw(0, r->kettle.boil_minutes) : 20;
        h->grams = draw(0.1, 5) * r->kettle.batch_l;
        h->days = use[i] == WF_HOP_DRY ? 4 : (double)NAN;
    }
}

bool drawn_day_draw(struct drawn *d)
{
    memset(d, 0, sizeof *d);
    struct wf_recipe *r = &d->recipe;
    struct wf_error e = {0};
    double batch = exp(draw(log(2), log(2000)));
    r->name = "Drawn";
    r->malts = d->malts;
    r->hops = d->hops;
    r->kettle = (struct wf_kettle){.batch_l = batch,
                                   .efficiency = draw(0.5, 0.95),
                                   .boil_minutes = draw(0, 120),
                                   .evaporation_l_h = chance(0.1) ? 0 : draw(0, 0.2) * batch};
    r->yeast.id = chance(0.9) ? "german-lager" : NULL;
    r->yeast.family = "lager";
    r->yeast.attenuation = r->yeast.id ? draw(0.6, 0.85) : (double)NAN;
    r->yeast.cost = (double)NAN;
    draw_malts(d, batch * draw(0.1, 0.5));
    draw_hops(d);
    wf_brewhouse_default(WF_UNITS_METRIC, &d->brewhouse);
    d->brewhouse.absorption_l_kg = draw(0, 1.5);
    d->brewhouse.mash_l_kg = draw(1.5, 6);
    d->brewhouse.dead_space_l = draw(0, 0.1) * batch;
    d->brewhouse.kettle_loss_l = draw(0, 0.1) * batch;
    d->brewhouse.fermenter_loss_l = draw(0, 0.1) * batch;
    d->brewhouse.tun_heat_l = chance(0.3) ? draw(0, 0.1) * batch : 0;
    d->brewhouse.altitude_m = chance(0.3) ? draw(-400, 3000) : 0;
    if (chance(0.5)) {
        d->brewhouse.tun_l = draw(0.3, 2) * batch;
        d->brewhouse.kettle_l = draw(0.7, 2) * batch;
        d->brewhouse.fermenter_l = draw(0.7, 2) * batch;
    }
    wf_brewday_usual(&d->options);
    d->options.keg = chance(0.3);
    return wf_recipe_predict(r, &e) == WF_OK;
}

enum wf_status drawn_day_plan(const struct drawn *d, const struct wf_catalogue *c,
                              struct wf_brewday **day, struct wf_error *e)
{
    return wf_brewday_plan(&d->recipe, &d->brewhouse, NULL, c, &d->options, day, e);
}

/* ---- One day --------------------------------------------------------------------------------- */

void drawn_day_plain(struct drawn *d)
{
    struct wf_error e = {0};
    memset(d, 0, sizeof *d);
    d->recipe = (struct wf_recipe){
        .name = "Plain", .malts = d->malts, .hops = d->hops, .malt_count = 2, .hop_count = 2};
    d->recipe.kettle = (struct wf_kettle){
        .batch_l = 20, .efficiency = 0.75, .boil_minutes = 60, .evaporation_l_h = 3};
    d->recipe.yeast.id = "german-lager";
    d->recipe.yeast.family = "lager";
    d->recipe.yeast.attenuation = 0.75;
    d->malts[0] = (struct wf_recipe_malt){
        .id = "pilsner-malt", .name = "Malt", .grain = {0.78, 1.7, 100, 1, false, true}};
    d->malts[1] = (struct wf_recipe_malt){.id = "cane-sugar",
                                          .name = "Sugar",
                                          .class = WF_CLASS_SUGAR,
                                          .grain = {1, 0, 0, 1, true, false}};
    d->malts[0].kg = 5;
    d->malts[1].kg = 0.5;
    d->malts[0].usual_most = d->malts[1].usual_most = 1;
    d->hops[0] = (struct wf_recipe_hop){
        .id = "saaz", .name = "Hop", .addition = {WF_HOP_DRY, 0.04, 0, 0, 1}, .grams = 40};
    d->hops[1] = (struct wf_recipe_hop){
        .id = "saaz", .name = "Hop", .addition = {WF_HOP_BOIL, 0.04, 60, 0, 1}, .grams = 60};
    d->hops[0].days = 4;
    d->hops[1].days = (double)NAN;
    wf_brewhouse_default(WF_UNITS_METRIC, &d->brewhouse);
    wf_brewday_usual(&d->options);
    assert_int_equal(wf_recipe_predict(&d->recipe, &e), WF_OK);
    d->recipe.character[WF_WORD_BODY] = 2;
}

double extract_per_l(double sg)
{
    double kg_per_l = (double)NAN;
    assert_int_equal(wf_extract_from_gravity(sg, &kg_per_l), WF_OK);
    return kg_per_l;
}
