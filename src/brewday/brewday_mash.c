/* brewday_mash.c: rests and strike water. */
#include "brewday/brewday_parts.h"

#include "base/try.h"

#include <math.h>
#include <string.h>

/* Index of the word "body" below which a mash is made to leave little, and above which much. The
 * rests are common practice: the lower of 62..70 C make more of the wort ferment. */
#define BODY_LIGHT 1.0
#define BODY_FULL  3.0
#define FULL_FG    1.012 /* a beer that ends below is dry, whatever flakes are in it */

/* Flaked and unmalted grain makes a mash thick and slow to run off: from this share on it rests
 * first where gums are broken down, common practice. */
#define GUMS_SHARE   0.30
#define GUMS_C       45.0
#define GUMS_MINUTES 15.0

/* Thinner than this, a first rest can be stirred. */
#define STIRRED_L_KG 1.2

struct plan {
    struct wf_rest rests[WF_RESTS_MOST];
    size_t count;
};

static const struct plan by_body[] = {
    [WF_BODY_LIGHT] = {{{.what = "sugar rest", .celsius = 63, .minutes = 40},
                        {.what = "conversion", .celsius = 70, .minutes = 20}},
                       2},
    [WF_BODY_MEDIUM] = {{{.what = "conversion", .celsius = 67, .minutes = 60}}, 1},
    [WF_BODY_FULL] = {{{.what = "conversion", .celsius = 68, .minutes = 60}}, 1},
};
/* The same in one, where the mash has no water for two. */
static const struct plan single[] = {
    [WF_BODY_LIGHT] = {{{.what = "conversion", .celsius = 65, .minutes = 75}}, 1},
    [WF_BODY_MEDIUM] = {{{.what = "conversion", .celsius = 67, .minutes = 60}}, 1},
    [WF_BODY_FULL] = {{{.what = "conversion", .celsius = 68, .minutes = 60}}, 1},
};

/* What the target wishes of the body, else what the recipe has. */
static double body_index(const struct wf_recipe *r)
{
    for (size_t i = 0; i < r->wish_count; i++)
        if (strcmp(r->wishes[i].wish, wf_word_name(WF_WORD_BODY)) == 0)
            return wf_range_middle(r->wishes[i].wanted);
    return r->character[WF_WORD_BODY];
}

static enum wf_body body_of(const struct wf_recipe *r, double index)
{
    double fg = r->predicted.fg;
    if (index < BODY_LIGHT)
        return WF_BODY_LIGHT;
    return index > BODY_FULL && !(fg < FULL_FG) ? WF_BODY_FULL : WF_BODY_MEDIUM;
}

static bool has_gums(const struct wf_recipe *r, double grain_kg)
{
    double kg = 0;
    for (size_t i = 0; i < r->malt_count; i++) {
        enum wf_malt_class c = r->malts[i].class;
        if (r->malts[i].grain.mashed && (c == WF_CLASS_FLAKED || c == WF_CLASS_UNMALTED))
            kg += r->malts[i].kg;
    }
    return kg >= GUMS_SHARE * grain_kg;
}

static void rest_for_gums(struct plan *plan)
{
    memmove(plan->rests + 1, plan->rests, plan->count * sizeof *plan->rests);
    plan->rests[0] = (struct wf_rest){"gum rest", GUMS_C, GUMS_MINUTES, 0, 0};
    plan->count++;
}

/*
 * Shares the mash's water out over the rests: from the last, which holds all of it, back to the
 * first. Of a mash that must end at W litres, boiling water q (h G + C + W)/(1 + q), q = (T2 - T1)/
 * (Tw - T2), is what wf_infusion_litres finds for the rest of it; C is the tun's heat.
 */
static bool share_water(const struct wf_planning *p, struct plan *plan)
{
    const struct wf_brewday_mash *m = &p->day->mash;
    double step = p->options->volume_step_l, water = p->day->water.mash_l;
    for (size_t i = plan->count - 1; i > 0; i--) {
        struct wf_rest *rest = &plan->rests[i];
        double q = (rest->celsius - rest[-1].celsius) / (wf_hottest(p->day) - rest->celsius);
        double litres = q / (1 + q) * (WF_MALT_HEAT_L_KG * m->grain_kg + m->tun_heat_l + water);
        rest->water_l = step > 0 ? round(litres / step) * step : litres;
        rest->water_celsius = wf_hottest(p->day);
        water -= rest->water_l;
    }
    plan->rests[0].water_l = water;
    return plan->count == 1 || water >= STIRRED_L_KG * m->grain_kg;
}

static struct plan choose_rests(const struct wf_planning *p)
{
    const struct wf_brewday_mash *m = &p->day->mash;
    struct plan plan = by_body[m->body];
    if (!isnan(p->options->mash_celsius)) {
        plan = single[WF_BODY_MEDIUM];
        plan.rests[0].celsius = p->options->mash_celsius;
    } else if (has_gums(p->recipe, m->grain_kg)) {
        rest_for_gums(&plan);
    }
    if (!share_water(p, &plan)) {
        plan = single[m->body];
        (void)share_water(p, &plan); /* one rest takes it all */
    }
    return plan;
}

static enum wf_status plan_rests(struct wf_planning *p)
{
    struct wf_brewday_mash *m = &p->day->mash;
    struct plan plan = choose_rests(p);
    memcpy(m->rests, plan.rests, sizeof m->rests);
    m->rest_count = plan.count;
    struct wf_rest *first = &m->rests[0];
    WF_TRY(wf_strike_celsius(m->grain_kg, first->water_l, m->grain_celsius, first->celsius,
                             &first->water_celsius));
    WF_TRY(wf_tun_celsius(m->tun_heat_l, first->water_l, m->grain_celsius, first->celsius,
                          &m->tun_celsius));
    first->water_celsius += m->tun_celsius;
    return WF_OK;
}

static enum wf_status refuse_strike(const struct wf_planning *p)
{
    const struct wf_brewday_mash *m = &p->day->mash;
    bool cold_tun = m->tun_heat_l > 0;
    return wf_error_add(p->e, WF_OUT_OF_RANGE,
                        "%.2f L of water for %.2f kg of grain are too little: it would have to be "
                        "hotter than boiling (%.1f C); give the brewhouse's mash more liquor%s",
                        m->rests[0].water_l, m->grain_kg, p->day->boiling_celsius,
                        cold_tun ? ", or warm the tun beforehand" : "");
}

enum wf_status wf_plan_mash(struct wf_planning *p)
{
    struct wf_brewday_mash *m = &p->day->mash;
    double wanted = p->options->grain_celsius;
    p->day->first_sg = (double)NAN;
    if (m->grain_kg == 0)
        return WF_OK;
    m->grain_celsius = isnan(wanted) ? p->brewhouse->grain_celsius : wanted;
    m->liquor_l_kg = (p->day->water.mash_l - p->day->water.dead_l) / m->grain_kg;
    m->tun_heat_l = p->brewhouse->tun_heat_l;
    m->body_index = body_index(p->recipe);
    m->body = body_of(p->recipe, m->body_index);
    m->dry = m->body == WF_BODY_MEDIUM && m->body_index > BODY_FULL;
    m->weak = p->recipe->predicted.lintner < WF_LINTNER_LEAST;
    WF_TRY(plan_rests(p));
    return m->rests[0].water_celsius > p->day->boiling_celsius ? refuse_strike(p) : WF_OK;
}
