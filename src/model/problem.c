/*
 * Which lots may be used, and what a kilogram or a gram of each does in this brewhouse.
 */
#include "model/problem.h"

#include "base/alloc.h"
#include "base/try.h"
#include "model/change.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

/* An opened lot wants using before any unopened one: it counts as this many days older. */
#define OPENED_DAYS 365.0

bool wf_id_listed(const char *const *ids, const char *id, const char *of)
{
    for (; ids != NULL && *ids != NULL; ids++)
        if (strcmp(*ids, id) == 0 || (of != NULL && strcmp(*ids, of) == 0))
            return true;
    return false;
}

struct wf_range wf_problem_bitterness(const struct wf_problem *p, double og)
{
    const struct wf_target *t = p->target;
    if (wf_range_is_any(t->ratio))
        return t->bitterness;
    double points = wf_points(og);
    return (struct wf_range){t->ratio.low * points, t->ratio.high * points, t->ratio.aim * points};
}

static double age_days(long packed, long opened, long today)
{
    if (today == WF_NO_DATE)
        return 0;
    double age = packed != WF_NO_DATE && packed < today ? (double)(today - packed) : 0;
    if (opened != WF_NO_DATE && opened <= today)
        age += OPENED_DAYS + (double)(today - opened);
    return age;
}

/* Whole steps, forgiving the last bits of a division: 0.15 / 0.05 is three. */
static double steps_down(double weight, double step)
{
    return floor(weight / step + 1e-9);
}

static double steps_up(double weight, double step)
{
    return ceil(weight / step - 1e-9);
}

static bool is_specialty(enum wf_malt_class c)
{
    return c == WF_CLASS_CARAMEL || c == WF_CLASS_ROAST;
}

/* The usual greatest share is a limit unless the lot or a rule that names this malt says otherwise;
 * where wishes may be missed, such a rule is no limit below it. */
static double share_most(const struct wf_problem *p, const struct wf_malt *m)
{
    const struct wf_target *t = p->target;
    if (isfinite(m->most))
        return m->most;
    double most = -1;
    for (size_t i = 0; i < t->rule_count; i++) {
        const struct wf_rule *r = &t->rules[i];
        if (!wf_id_listed(r->who.ids, m->id, m->of) || wf_range_is_any(r->share))
            continue;
        if (isfinite(r->share.high))
            most = fmax(most, r->share.high);
        else if (r->share.low > m->usual_most)
            most = 1;
    }
    return most < 0 ? m->usual_most : p->open ? fmax(most, m->usual_most) : most;
}

static enum wf_status pick_malt(const struct wf_problem *p, const struct wf_malt *m,
                                struct wf_pick_malt *out)
{
    const struct wf_brewhouse *b = p->brewhouse;
    *out = (struct wf_pick_malt){.lot = m};
    out->step_kg = isfinite(m->step_kg)     ? m->step_kg
                   : is_specialty(m->class) ? b->step_specialty_kg
                                            : b->step_malt_kg;
    WF_TRY(wf_extract_per_kg(&m->grain, &p->kettle, &out->extract));
    WF_TRY(wf_mcu_per_kg(&m->grain, &p->kettle, &out->mcu));
    out->least_kg = fmax(1, steps_up(b->least_malt_kg, out->step_kg)) * out->step_kg;
    out->share_most = share_most(p, m);
    out->pack_kg = m->pack_kg > 0 ? m->pack_kg : (double)NAN;
    out->price = isfinite(m->price_per_kg) ? m->price_per_kg : 0;
    if (isfinite(out->pack_kg)) {
        out->pack_price = out->price * out->pack_kg;
        out->price = 0;
    }
    out->fresh = age_days(m->packed, m->opened, p->today); /* made relative by set_fresh */
    return WF_OK;
}

/*
 * The heaviest grist that is of interest: half as strong again as wanted, all of the lot that
 * yields least. It bounds every weight, with the stock; a lot of which the least that is worth
 * adding cannot be had is left out. The wishes' own bounds come in grist_model.c, since the nearest
 * recipe may pass them.
 */
#define STRONGER_BY 1.5

static enum wf_status bound_malts(struct wf_problem *p)
{
    double extract, least_extract = INFINITY;
    WF_TRY(wf_extract_from_gravity(p->og.high, &extract));
    for (size_t i = 0; i < p->malt_count; i++)
        least_extract = fmin(least_extract, p->malts[i].extract);
    if (p->malt_count > 0)
        p->grist_most_kg = STRONGER_BY * extract * p->kettle.batch_l / least_extract;
    size_t kept = 0;
    for (size_t i = 0; i < p->malt_count; i++) {
        struct wf_pick_malt m = p->malts[i];
        double most = fmin(m.lot->have_kg, m.share_most * p->grist_most_kg);
        m.most_kg = steps_down(most, m.step_kg) * m.step_kg;
        if (m.most_kg >= m.least_kg - 1e-12)
            p->malts[kept++] = m;
    }
    p->malt_count = kept;
    return WF_OK;
}

static bool is_wanted(const struct wf_problem *p, const struct wf_malt *m)
{
    return !wf_id_listed(p->target->avoid, m->id, m->of) && m->grain.yield > 0 &&
           (p->open || wf_malt_set_has(&p->target->only, m));
}

static enum wf_status pick_malts(struct wf_problem *p, struct wf_error *e)
{
    p->malts = wf_alloc(p->store->malt_count, sizeof *p->malts);
    if (p->malts == NULL)
        return wf_error_add(e, WF_MEMORY, "out of memory");
    for (size_t i = 0; i < p->store->malt_count; i++) {
        const struct wf_malt *m = &p->store->malts[i];
        if (!is_wanted(p, m))
            continue;
        enum wf_status status = pick_malt(p, m, &p->malts[p->malt_count]);
        if (status != WF_OK)
            return wf_error_add(e, status, "malt \"%s\": its figures are outside the laws' range",
                                m->id);
        p->malt_count++;
    }
    enum wf_status status = bound_malts(p);
    if (status != WF_OK)
        return wf_error_add(e, status, "the wanted gravity is outside the laws' range");
    return WF_OK;
}

static enum wf_status pick_hops(struct wf_problem *p, struct wf_error *e)
{
    p->hops = wf_alloc(p->store->hop_count, sizeof *p->hops);
    if (p->hops == NULL)
        return wf_error_add(e, WF_MEMORY, "out of memory");
    for (size_t i = 0; i < p->store->hop_count; i++) {
        const struct wf_hop *h = &p->store->hops[i];
        if (wf_id_listed(p->target->avoid, h->id, h->of))
            continue;
        struct wf_pick_hop pick = {.lot = h};
        enum wf_status status = wf_hop_alpha_on(h, p->today, &pick.alpha);
        if (status != WF_OK)
            return wf_error_add(e, status,
                                "hop \"%s\": packed more than ten years before the brewing day, or "
                                "kept outside -30..40 C: give its alpha acid as it is now and no "
                                "\"packed\" date",
                                h->id);
        pick.step_g = isfinite(h->step_kg) ? h->step_kg * 1000 : p->brewhouse->step_hop_g;
        pick.least_g = fmax(1, steps_up(p->brewhouse->least_hop_g, pick.step_g)) * pick.step_g;
        /* No schedule holds more than this of one hop: 25 g/L is beyond the hoppiest beers. */
        double most = fmin(h->have_g, 25 * p->kettle.batch_l);
        pick.most_g = steps_down(most, pick.step_g) * pick.step_g;
        pick.pack_g = h->pack_kg > 0 ? h->pack_kg * 1000 : (double)NAN;
        pick.price = isfinite(h->price_per_kg) ? h->price_per_kg / 1000 : 0;
        if (isfinite(pick.pack_g)) {
            pick.pack_price = pick.price * pick.pack_g;
            pick.price = 0;
        }
        pick.fresh = age_days(h->packed, h->opened, p->today);
        if (pick.most_g >= pick.least_g - 1e-9)
            p->hops[p->hop_count++] = pick;
    }
    return WF_OK;
}

static bool in_range(double value, struct wf_range r)
{
    return value >= r.low - 1e-9 && value <= r.high + 1e-9;
}

/* A slot of one variety takes only hops that meet its wishes by themselves. */
static bool may_go_here(const struct wf_slot *s, const struct wf_hop *h)
{
    if (s->hops != NULL && !wf_id_listed(s->hops, h->id, h->of))
        return false;
    if (s->origins != NULL && (h->origin == NULL || !wf_id_listed(s->origins, h->origin, NULL)))
        return false;
    for (size_t i = 0; s->most == 1 && i < s->wish_count; i++)
        if (!in_range(h->character[s->wishes[i].word - WF_MALT_WORD_COUNT], s->wishes[i].index))
            return false;
    return true;
}

static bool is_late(const struct wf_slot *s)
{
    return s->use == WF_HOP_STAND || s->use == WF_HOP_DRY ||
           (s->use == WF_HOP_BOIL && s->minutes <= WF_LATE_HOP_MINUTES);
}

static enum wf_status pick_places(struct wf_problem *p, struct wf_error *e)
{
    const struct wf_target *t = p->target;
    p->places = wf_alloc(t->slot_count * p->hop_count, sizeof *p->places);
    if (p->places == NULL)
        return wf_error_add(e, WF_MEMORY, "out of memory");
    for (size_t s = 0; s < t->slot_count; s++) {
        const struct wf_slot *slot = &t->slots[s];
        for (size_t h = 0; h < p->hop_count; h++) {
            const struct wf_pick_hop *hop = &p->hops[h];
            if (!may_go_here(slot, hop->lot))
                continue;
            p->places[p->place_count++] = (struct wf_place){
                .slot = s,
                .hop = h,
                .addition = {.use = slot->use,
                             .alpha = hop->alpha,
                             .minutes = slot->use == WF_HOP_BOIL
                                            ? fmin(slot->minutes, p->kettle.boil_minutes)
                                            : slot->minutes,
                             .celsius = slot->celsius,
                             .form = hop->lot->whole ? WF_WHOLE_HOPS : 1.0},
                .late = is_late(slot) ? 1 : 0,
            };
        }
    }
    return WF_OK;
}

/* The yeast's place in the target's list, or -1 where it may not ferment this beer. */
static long yeast_rank(const struct wf_target *t, const struct wf_yeast *y)
{
    if (wf_id_listed(t->avoid, y->id, y->of))
        return -1;
    for (size_t i = 0; t->yeasts != NULL && t->yeasts[i] != NULL; i++) {
        const char *want = t->yeasts[i];
        if (strcmp(want, y->id) == 0 || (y->of != NULL && strcmp(want, y->of) == 0) ||
            (y->family != NULL && strcmp(want, y->family) == 0))
            return (long)i;
    }
    return t->yeasts == NULL || t->yeasts[0] == NULL ? 0 : -1;
}

static int by_rank_then_price(const void *a, const void *b)
{
    const struct wf_pick_yeast *x = a, *y = b;
    if (x->rank != y->rank)
        return x->rank < y->rank ? -1 : 1;
    if (x->price < y->price || x->price > y->price)
        return x->price < y->price ? -1 : 1;
    return strcmp(x->lot->id, y->lot->id);
}

static void add_yeast(struct wf_problem *p, const struct wf_yeast *y, long rank)
{
    double attenuation = wf_brewhouse_attenuation(p->brewhouse, y->id, y->of,
                                                  (y->attenuation_low + y->attenuation_high) / 2);
    if (rank >= 0 && y->have >= 1 && in_range(attenuation, p->target->attenuation))
        p->yeasts[p->yeast_count++] =
            (struct wf_pick_yeast){.lot = y,
                                   .attenuation = attenuation,
                                   .price = isfinite(y->price) ? y->price : 0,
                                   .rank = (size_t)rank};
}

static enum wf_status pick_yeasts(struct wf_problem *p, struct wf_error *e)
{
    const struct wf_target *t = p->target;
    const struct wf_store *s = p->store;
    p->yeasts = wf_alloc(s->yeast_count, sizeof *p->yeasts);
    if (p->yeasts == NULL)
        return wf_error_add(e, WF_MEMORY, "out of memory");
    bool must = false; /* a yeast named in `use` must be the one */
    for (size_t i = 0; i < s->yeast_count; i++)
        must |= wf_id_listed(t->use, s->yeasts[i].id, s->yeasts[i].of);
    for (size_t i = 0; i < s->yeast_count; i++) {
        const struct wf_yeast *y = &s->yeasts[i];
        bool named = wf_id_listed(t->use, y->id, y->of);
        if (!must || named)
            add_yeast(p, y, named ? 0 : yeast_rank(t, y));
    }
    bool any = p->open && p->yeast_count == 0;
    for (size_t i = 0; any && i < s->yeast_count; i++)
        add_yeast(p, &s->yeasts[i],
                  wf_id_listed(t->avoid, s->yeasts[i].id, s->yeasts[i].of) ? -1 : 0);
    qsort(p->yeasts, p->yeast_count, sizeof *p->yeasts, by_rank_then_price);
    return WF_OK;
}

/* From days of age to 0 (the oldest) .. 1 (new). */
static void set_fresh(struct wf_problem *p)
{
    double oldest = 0;
    for (size_t i = 0; i < p->malt_count; i++)
        oldest = fmax(oldest, p->malts[i].fresh);
    for (size_t i = 0; i < p->hop_count; i++)
        oldest = fmax(oldest, p->hops[i].fresh);
    for (size_t i = 0; i < p->malt_count; i++)
        p->malts[i].fresh = oldest > 0 ? 1 - p->malts[i].fresh / oldest : 1;
    for (size_t i = 0; i < p->hop_count; i++)
        p->hops[i].fresh = oldest > 0 ? 1 - p->hops[i].fresh / oldest : 1;
}

/* Open ends are closed where wort ends: water, and the strongest that the laws know. */
#define OG_LEAST 1.004

static void set_og(struct wf_problem *p)
{
    p->og = p->target->og;
    p->og.low = fmax(p->og.low, OG_LEAST);
    p->og.high = fmin(p->og.high, WF_GRAVITY_MOST);
    p->og.low = fmin(p->og.low, p->og.high);
}

static enum wf_status set_kettle(struct wf_problem *p, struct wf_error *e)
{
    const struct wf_target *t = p->target;
    const struct wf_brewhouse *b = p->brewhouse;
    p->kettle = (struct wf_kettle){
        .batch_l = isfinite(t->batch_l) && !b->batch_given ? t->batch_l : b->batch_l,
        /* At what is aimed at: within the wish for gravity the difference is a tenth of a point. */
        .efficiency = wf_brewhouse_efficiency(b, wf_range_middle(t->og)),
        .boil_minutes =
            isfinite(t->boil_minutes) && !b->boil_given ? t->boil_minutes : b->boil_minutes,
        .evaporation_l_h = b->evaporation_l_h,
        .law = b->law,
        .bitterness_factor = b->bitterness_factor,
        .colour_factor = b->colour_factor,
    };
    for (size_t i = 0; i < t->slot_count; i++) {
        double worth;
        if (t->slots[i].use != WF_HOP_STAND)
            continue;
        if (wf_stand_boil_minutes(t->slots[i].minutes, t->slots[i].celsius, &worth) != WF_OK)
            return wf_error_add(e, WF_BAD_INPUT, "hop stand \"%s\": outside 0..100 C",
                                t->slots[i].at);
        if (worth > p->kettle.stand_minutes) {
            p->kettle.stand_minutes = worth;
            p->stand = t->slots[i];
        }
    }
    return WF_OK;
}

static enum wf_status make(struct wf_problem *p, struct wf_error *e)
{
    set_og(p);
    WF_TRY(set_kettle(p, e));
    WF_TRY(pick_malts(p, e));
    WF_TRY(pick_hops(p, e));
    WF_TRY(pick_places(p, e));
    WF_TRY(pick_yeasts(p, e));
    set_fresh(p);
    return WF_OK;
}

enum wf_status wf_problem_make(const struct wf_target *t, const struct wf_store *s,
                               const struct wf_brewhouse *b, long today, struct wf_problem *out,
                               struct wf_error *e)
{
    struct wf_problem p = {.target = t, .store = s, .brewhouse = b, .today = today};
    enum wf_status status = make(&p, e);
    if (status == WF_OK)
        *out = p;
    else
        wf_problem_free(&p);
    return status;
}

enum wf_status wf_problem_open(const struct wf_problem *p, struct wf_problem *out,
                               struct wf_error *e)
{
    struct wf_problem open = {.target = p->target,
                              .store = p->store,
                              .brewhouse = p->brewhouse,
                              .today = p->today,
                              .open = true};
    enum wf_status status = make(&open, e);
    if (status == WF_OK)
        *out = open;
    else
        wf_problem_free(&open);
    return status;
}

void wf_problem_keep_to(struct wf_problem *p, const struct wf_recipe *from)
{
    p->from = from;
    for (size_t i = 0; from && i < p->yeast_count; i++) {
        struct wf_pick_yeast *y = &p->yeasts[i];
        y->change = wf_change_yeast(from, y->lot, y->attenuation);
    }
}

void wf_problem_free(struct wf_problem *p)
{
    wf_free(p->malts);
    wf_free(p->hops);
    wf_free(p->places);
    wf_free(p->yeasts);
    *p = (struct wf_problem){0};
}
