/* judge.c: the wishes, one by one. */
#include "support/judge_parts.h"

#include <math.h>
#include <string.h>

#define HOPS_AT_MOST 4 /* varieties in a beer (common practice): hop_model.h says so */

/* ---- Verdicts -------------------------------------------------------------------------------- */

static void forbid(struct verdict *v, bool ok, const char *reason)
{
    if (ok || !v->allowed)
        return;
    v->allowed = false;
    v->reason = reason;
}

static void measure(struct verdict *v, struct wf_range wanted, double got, const char *reason)
{
    double below = isinf(wanted.low) ? HUGE_VAL : (got - wanted.low) / fmax(1, fabs(wanted.low));
    double above = isinf(wanted.high) ? HUGE_VAL : (wanted.high - got) / fmax(1, fabs(wanted.high));
    double margin = isnan(got) ? -HUGE_VAL : fmin(below, above);
    if (wf_range_is_any(wanted) || margin >= v->margin)
        return;
    if (margin >= 0 && (got == 0 || got == 1))
        return; /* nothing or all of a grist: exact, so there is no doubt */
    v->margin = margin;
    if (v->allowed)
        v->reason = reason;
}

static bool listed(const char *const *ids, const char *id)
{
    for (; ids != NULL && *ids != NULL; ids++)
        if (strcmp(*ids, id) == 0)
            return true;
    return false;
}

/* Whole steps, no less than the least that is worth adding, itself rounded up to a step. */
static bool on_scale(double weight, double step, double least)
{
    double steps = round(weight / step);
    return fabs(weight - steps * step) < 1e-7 * fmax(1, weight) &&
           steps * step >= ceil(least / step - 1e-9) * step - 1e-9;
}

/* ---- Grist ----------------------------------------------------------------------------------- */

/* pantry.h: a lot's own limit; else that of rules which name it; else the usual greatest share. A
 * rule that only asks for more than the usual share lifts the limit. */
static double greatest_share(const struct gen *g, const struct wf_malt *m)
{
    double most = -1;
    if (isfinite(m->most))
        return m->most;
    for (size_t i = 0; i < g->target.rule_count; i++) {
        const struct wf_rule *r = &g->target.rules[i];
        if (!listed(r->who.ids, m->id) || wf_range_is_any(r->share))
            continue;
        if (isfinite(r->share.high))
            most = fmax(most, r->share.high);
        else if (r->share.low > m->usual_most)
            most = 1;
    }
    return most >= 0 ? most : m->usual_most;
}

static double total_kg(const struct gen *g, const double *kg)
{
    double total = 0;
    for (size_t i = 0; i < g->store.malt_count; i++)
        total += kg[i];
    return total;
}

static void check_malts(const struct gen *g, const struct gen_recipe *r, struct verdict *v)
{
    double total = total_kg(g, r->kg);
    for (size_t i = 0; i < g->store.malt_count; i++) {
        const struct wf_malt *m = &g->store.malts[i];
        double kg = r->kg[i];
        if (kg <= 0)
            continue;
        forbid(v, kg <= m->have_kg + 1e-9, "stock of a malt");
        forbid(v, on_scale(kg, gen_step_kg(g, m), g->brewhouse.least_malt_kg), "scale of a malt");
        forbid(v, !listed(g->target.avoid, m->id), "a malt to avoid");
        forbid(v, wf_malt_set_has(&g->target.only, m), "a malt that does not belong in it");
        measure(v, (struct wf_range){-HUGE_VAL, greatest_share(g, m), (double)NAN}, kg / total,
                "greatest share");
    }
}

static void check_rules(const struct gen *g, const struct gen_recipe *r, struct verdict *v)
{
    double total = total_kg(g, r->kg);
    for (size_t i = 0; i < g->target.rule_count; i++) {
        const struct wf_rule *rule = &g->target.rules[i];
        double share = 0;
        int count = 0;
        for (size_t m = 0; m < g->store.malt_count; m++) {
            if (r->kg[m] <= 0 || !wf_malt_set_has(&rule->who, &g->store.malts[m]))
                continue;
            share += r->kg[m] / total;
            count++;
        }
        measure(v, rule->share, share, rule->words);
        forbid(v, rule->least < 0 || count >= rule->least, rule->words);
        forbid(v, rule->most < 0 || count <= rule->most, rule->words);
    }
}

static void check_malt_words(const struct gen *g, const struct gen_recipe *r, struct verdict *v)
{
    double total = total_kg(g, r->kg);
    for (size_t i = 0; i < g->target.wish_count; i++) {
        const struct wf_word_wish *w = &g->target.wishes[i];
        double index = 0;
        if (w->word >= WF_MALT_WORD_COUNT)
            continue;
        for (size_t m = 0; m < g->store.malt_count; m++)
            index += r->kg[m] / total / g->store.malts[m].usual_most *
                     g->store.malts[m].character[w->word];
        measure(v, w->index, index, wf_word_name(w->word));
    }
}

/* ---- Hops ------------------------------------------------------------------------------------ */

static double grams_at(const struct gen *g, const struct gen_recipe *r, size_t slot, size_t hop)
{
    return r->grams[slot * g->store.hop_count + hop];
}

static bool may_go(const struct wf_slot *s, const struct wf_hop *h)
{
    return (s->hops == NULL || listed(s->hops, h->id)) &&
           (s->origins == NULL || (h->origin != NULL && listed(s->origins, h->origin)));
}

/* A dose of one value is met to the nearest step, one of a window within it; of a window narrower
 * than a step, the step that is nearest to its middle will do too. */
static bool dose_met(const struct gen *g, const struct wf_slot *s, double grams)
{
    double batch = g->brewhouse.batch_l, low = s->dose.low * batch, high = s->dose.high * batch;
    double step = g->brewhouse.step_hop_g, middle = round((low + high) / 2 / step) * step;
    bool narrow = high - low < step && fabs(grams - middle) <= 1e-6;
    double room = low < high ? 0 : step / 2;
    return narrow || (grams >= low - room - 1e-6 && grams <= high + room + 1e-6);
}

static void check_slot(const struct gen *g, const struct gen_recipe *r, size_t slot,
                       struct verdict *v)
{
    const struct wf_slot *s = &g->target.slots[slot];
    double grams = 0, score[WF_WORD_COUNT] = {0};
    int varieties = 0;
    for (size_t h = 0; h < g->store.hop_count; h++) {
        double here = grams_at(g, r, slot, h);
        if (here <= 0)
            continue;
        varieties++;
        grams += here;
        forbid(v, may_go(s, &g->store.hops[h]), "a hop where it may not go");
        forbid(v, on_scale(here, g->brewhouse.step_hop_g, g->brewhouse.least_hop_g),
               "scale of a hop");
        for (size_t i = 0; i < s->wish_count; i++)
            score[s->wishes[i].word] +=
                here * g->store.hops[h].character[s->wishes[i].word - WF_MALT_WORD_COUNT];
    }
    forbid(v, varieties <= s->most, "varieties in a slot");
    forbid(v, !s->dosed || dose_met(g, s, grams), "dose");
    for (size_t i = 0; grams > 0 && i < s->wish_count; i++) {
        struct wf_range index = s->wishes[i].index;
        double mean = score[s->wishes[i].word] / grams;
        if (varieties > 1)
            measure(v, index, mean, "hops of a slot");
        else
            forbid(v, mean >= index.low - 1e-9 && mean <= index.high + 1e-9, "hop of a slot");
    }
}

static void check_hops(const struct gen *g, const struct gen_recipe *r, struct verdict *v)
{
    int varieties = 0;
    for (size_t h = 0; h < g->store.hop_count; h++) {
        double grams = 0;
        for (size_t s = 0; s < g->target.slot_count; s++)
            grams += grams_at(g, r, s, h);
        if (grams <= 0)
            continue;
        varieties++;
        forbid(v, grams <= g->store.hops[h].have_g + 1e-9, "stock of a hop");
        forbid(v, !listed(g->target.avoid, g->store.hops[h].id), "a hop to avoid");
    }
    forbid(v, varieties <= HOPS_AT_MOST, "varieties of hops");
    for (size_t s = 0; s < g->target.slot_count; s++)
        check_slot(g, r, s, v);
}

static void check_hop_words(const struct gen *g, const struct gen_recipe *r, struct verdict *v)
{
    for (size_t i = 0; i < g->target.wish_count; i++) {
        const struct wf_word_wish *w = &g->target.wishes[i];
        double index = 0;
        if (w->word < WF_MALT_WORD_COUNT)
            continue;
        for (size_t s = 0; s < g->target.slot_count; s++)
            for (size_t h = 0; gen_slot_is_late(&g->target.slots[s]) && h < g->store.hop_count; h++)
                index +=
                    grams_at(g, r, s, h) * g->store.hops[h].character[w->word - WF_MALT_WORD_COUNT];
        index /= WF_LATE_HOP_DOSE * g->brewhouse.batch_l;
        measure(v, w->index, index, wf_word_name(w->word));
    }
}

/* ---- Yeast, and what must be in it ----------------------------------------------------------- */

static void check_yeast(const struct gen *g, const struct gen_recipe *r, struct verdict *v)
{
    const struct wf_yeast *y = judge_yeast(g, r);
    const char *const *wanted = g->target.yeasts;
    forbid(v, y != NULL || g->store.yeast_count == 0, "no yeast");
    if (y == NULL)
        return;
    forbid(v, y->have >= 1, "stock of a yeast");
    forbid(v, wanted == NULL || listed(wanted, y->id) || listed(wanted, y->family),
           "a yeast that was not wanted");
    measure(v, g->target.attenuation, judge_attenuation(y), "attenuation");
}

static bool has(const struct gen *g, const struct gen_recipe *r, const char *id)
{
    for (size_t i = 0; i < g->store.malt_count; i++)
        if (r->kg[i] > 0 && strcmp(id, g->store.malts[i].id) == 0)
            return true;
    for (size_t h = 0; h < g->store.hop_count; h++)
        for (size_t s = 0; s < g->target.slot_count; s++)
            if (grams_at(g, r, s, h) > 0 && strcmp(id, g->store.hops[h].id) == 0)
                return true;
    return false;
}

/* ---- Figures --------------------------------------------------------------------------------- */

static void check_wort(const struct gen *g, struct verdict *v)
{
    measure(v, g->target.og, v->beer.og, "original gravity");
    measure(v, g->target.colour, v->beer.srm, "colour");
    if (g->target.diastatic > 0)
        measure(v, (struct wf_range){g->target.diastatic, HUGE_VAL, (double)NAN}, v->beer.lintner,
                "diastatic power");
}

static void check_beer(const struct gen *g, struct verdict *v)
{
    measure(v, g->target.ratio, v->beer.ratio, "ratio");
    measure(v, g->target.bitterness, v->beer.ibu, "bitterness");
    if (g->store.yeast_count == 0)
        return;
    measure(v, g->target.fg, v->beer.fg, "final gravity");
    measure(v, g->target.abv, v->beer.abv, "alcohol");
}

/* ---- The whole ------------------------------------------------------------------------------- */

void judge_grist(const struct gen *g, const struct gen_recipe *r, struct verdict *v)
{
    *v = (struct verdict){.allowed = true, .margin = HUGE_VAL, .reason = ""};
    if (!judge_predict(g, r, false, &v->beer)) {
        forbid(v, false, "the laws' range");
        v->margin = -HUGE_VAL;
        return;
    }
    check_malts(g, r, v);
    check_rules(g, r, v);
    check_malt_words(g, r, v);
    check_wort(g, v);
}

void judge(const struct gen *g, const struct gen_recipe *r, struct verdict *v)
{
    judge_grist(g, r, v);
    if (v->margin <= -HUGE_VAL)
        return;
    check_hops(g, r, v);
    check_hop_words(g, r, v);
    check_yeast(g, r, v);
    for (const char *const *id = g->target.use; id != NULL && *id != NULL; id++)
        forbid(v, has(g, r, *id), "something that must be in it");
    forbid(v, judge_predict(g, r, true, &v->beer), "the laws' range");
    if (!v->allowed)
        return;
    check_beer(g, v);
    judge_reckon(g, r, v);
}

bool judge_weights(const struct gen *g, const struct gen_recipe *r)
{
    bool good = true;
    for (size_t i = 0; i < g->store.malt_count; i++) {
        const struct wf_malt *m = &g->store.malts[i];
        if (r->kg[i] > 0)
            good = good && r->kg[i] <= m->have_kg + 1e-9 &&
                   on_scale(r->kg[i], gen_step_kg(g, m), g->brewhouse.least_malt_kg);
    }
    for (size_t h = 0; h < g->store.hop_count; h++) {
        double grams = 0;
        for (size_t s = 0; s < g->target.slot_count; s++) {
            double here = grams_at(g, r, s, h);
            grams += here;
            if (here > 0)
                good = good && on_scale(here, g->brewhouse.step_hop_g, g->brewhouse.least_hop_g);
        }
        good = good && grams <= g->store.hops[h].have_g + 1e-9;
    }
    return good;
}
