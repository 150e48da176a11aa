/* recipe_target.c: what a recipe is, as a target: see revise.h. */
#include "wortfit/revise.h"

#include "base/alloc.h"

#include <math.h>
#include <string.h>

#define ENZYMES_ENOUGH 35.0 /* Lintner: pantry.h */
#define SHARE_ROOM     1.1  /* of a malt that is unusually much of the grist */

struct make {
    const struct wf_recipe *r;
    double loose;
    struct wf_target *t;
    struct wf_arena *arena;
};

static struct wf_range around(double aim, double tolerance)
{
    if (isnan(aim))
        return wf_range_any();
    return (struct wf_range){fmax(0, aim - tolerance), aim + tolerance, aim};
}

static void set_figures(struct make *m)
{
    const struct wf_beer *b = &m->r->predicted;
    struct wf_target *t = m->t;
    double loose = m->loose;
    t->batch_l = m->r->kettle.batch_l;
    t->boil_minutes = m->r->kettle.boil_minutes;
    t->og = around(b->og, loose * WF_HOLD_GRAVITY);
    t->fg = around(b->fg, loose * WF_HOLD_FINAL_GRAVITY);
    t->colour = around(b->srm, loose * fmax(WF_HOLD_COLOUR, WF_HOLD_COLOUR_PART * b->srm));
    t->ratio = around(b->ratio, loose * fmax(WF_HOLD_RATIO, WF_HOLD_RATIO_PART * b->ratio));
    t->bitterness = t->abv = t->attenuation = wf_range_any();
    t->diastatic = b->lintner > 0 ? fmin(b->lintner, ENZYMES_ENOUGH) : 0;
    t->only.all = true;
}

static bool set_words(struct make *m)
{
    struct wf_word_wish *wishes = wf_arena_alloc(m->arena, WF_WORD_COUNT, sizeof *wishes);
    for (int w = 0; wishes && w < WF_WORD_COUNT; w++)
        wishes[w] = (struct wf_word_wish){(enum wf_word)w,
                                          around(m->r->character[w], m->loose * WF_HOLD_INDEX)};
    m->t->wishes = wishes;
    m->t->wish_count = WF_WORD_COUNT;
    return wishes != NULL;
}

/* ---- Malts that are more of the grist than is usual ------------------------------------------ */

static bool add_rule(struct make *m, struct wf_rule *rules, const struct wf_recipe_malt *malt,
                     double share)
{
    const char **ids = wf_arena_alloc(m->arena, 2, sizeof *ids);
    struct wf_range most = {-(double)INFINITY, fmin(1, share * SHARE_ROOM), (double)NAN};
    if (!ids)
        return false;
    ids[0] = wf_arena_string(m->arena, malt->of ? malt->of : malt->id);
    rules[m->t->rule_count++] = (struct wf_rule){
        .who = {.ids = ids},
        .share = most,
        .least = -1,
        .most = -1,
        .words = wf_arena_string(m->arena, malt->name),
    };
    return ids[0] && rules[m->t->rule_count - 1].words;
}

static bool set_rules(struct make *m)
{
    const struct wf_recipe *r = m->r;
    struct wf_rule *rules = wf_arena_alloc(m->arena, r->malt_count, sizeof *rules);
    bool room = rules != NULL;
    m->t->rules = rules;
    for (size_t i = 0; room && i < r->malt_count; i++) {
        double share = 0;
        bool first = true;
        for (size_t k = 0; k < r->malt_count; k++) {
            bool same = strcmp(r->malts[k].id, r->malts[i].id) == 0;
            share += same ? r->malts[k].share : 0;
            first = first && (!same || k >= i);
        }
        if (first && share > r->malts[i].usual_most)
            room = add_rule(m, rules, &r->malts[i], share);
    }
    return room;
}

/* ---- Hops ------------------------------------------------------------------------------------ */

static bool is_late(const struct wf_addition *a)
{
    return a->use == WF_HOP_STAND || a->use == WF_HOP_DRY ||
           (a->use == WF_HOP_BOIL && a->minutes <= WF_LATE_HOP_MINUTES);
}

static bool same_time(const struct wf_slot *s, const struct wf_addition *a)
{
    if (s->use != a->use)
        return false;
    if (s->use == WF_HOP_BOIL || s->use == WF_HOP_STAND)
        return fabs(s->minutes - a->minutes) < 1e-6 &&
               (s->use == WF_HOP_BOIL || fabs(s->celsius - a->celsius) < 1e-6);
    return true;
}

static const char *when(struct wf_arena *arena, const struct wf_addition *a)
{
    switch (a->use) {
    case WF_HOP_FIRST_WORT:
        return "first wort";
    case WF_HOP_BOIL:
        return wf_arena_print(arena, "%.4g min", a->minutes);
    case WF_HOP_STAND:
        return wf_arena_print(arena, "stand %.4g min %.4g C", a->minutes, a->celsius);
    case WF_HOP_DRY:
    case WF_HOP_USE_COUNT:
        break;
    }
    return "dry";
}

static struct wf_slot *slot_of(struct make *m, struct wf_slot *slots, const struct wf_recipe_hop *h)
{
    const struct wf_addition *a = &h->addition;
    for (size_t i = 0; i < m->t->slot_count; i++)
        if (same_time(&slots[i], a))
            return &slots[i];
    struct wf_slot *s = &slots[m->t->slot_count++];
    *s = (struct wf_slot){.use = a->use,
                          .minutes = a->use == WF_HOP_DRY ? 0 : a->minutes,
                          .celsius = a->celsius,
                          .days = h->days,
                          .dosed = is_late(a),
                          .most = 1,
                          .at = when(m->arena, a)};
    return s;
}

/* From grams to the window of the dose. */
static void set_dose(const struct make *m, struct wf_slot *s)
{
    double dose = s->dose.aim / m->r->kettle.batch_l;
    double room = m->loose * (WF_HOLD_DOSE + WF_HOLD_DOSE_PART * dose);
    s->dose = s->dosed ? around(dose, room) : wf_range_any();
}

/* A stand without hops keeps the wort hot all the same. */
static void add_bare_stand(struct make *m, struct wf_slot *slots)
{
    const struct wf_recipe *r = m->r;
    if (isnan(r->stand_length) || isnan(r->stand_celsius))
        return;
    for (size_t i = 0; i < m->t->slot_count; i++)
        if (slots[i].use == WF_HOP_STAND)
            return;
    slots[m->t->slot_count++] = (struct wf_slot){.use = WF_HOP_STAND,
                                                 .minutes = r->stand_length,
                                                 .celsius = r->stand_celsius,
                                                 .dose = wf_range_any(),
                                                 .at = "stand"};
}

static bool set_slots(struct make *m)
{
    const struct wf_recipe *r = m->r;
    struct wf_slot *slots = wf_arena_alloc(m->arena, r->hop_count + 1, sizeof *slots);
    for (size_t i = 0; slots && i < r->hop_count; i++) {
        if (!(r->hops[i].grams > 0))
            continue;
        struct wf_slot *s = slot_of(m, slots, &r->hops[i]);
        s->dose.aim += r->hops[i].grams;
        s->most++;
        if (!s->at)
            return false;
    }
    for (size_t i = 0; slots && i < m->t->slot_count; i++)
        set_dose(m, &slots[i]);
    if (slots)
        add_bare_stand(m, slots);
    m->t->slots = slots;
    return slots != NULL;
}

enum wf_status wf_recipe_target(const struct wf_recipe *r, double loose, struct wf_target **out,
                                struct wf_error *e)
{
    struct wf_arena *arena = wf_arena_new();
    struct wf_target *t = arena ? wf_arena_alloc(arena, 1, sizeof *t) : NULL;
    struct make m = {.r = r, .loose = loose, .t = t, .arena = arena};
    *out = NULL;
    if (t) {
        t->arena = arena;
        t->id = "recipe";
        t->name = wf_arena_string(arena, r->name ? r->name : "");
        set_figures(&m);
    }
    if (!t || !t->name || !set_words(&m) || !set_rules(&m) || !set_slots(&m)) {
        wf_arena_free(arena);
        return wf_error_add(e, WF_MEMORY, "out of memory");
    }
    *out = t;
    return WF_OK;
}
