/* refit_places.c: the places of a schedule, and what may go into each. */
#include "solve/refit_parts.h"

#include "base/alloc.h"
#include "base/try.h"
#include "solve/scale_parts.h"

#include <math.h>
#include <string.h>

#define SAME_MINUTES 1e-6
#define MOST_G_L     25.0 /* of one hop: beyond the hoppiest beers */

const char *wf_refit_at(struct wf_arena *a, const struct wf_addition *addition, double days)
{
    switch (addition->use) {
    case WF_HOP_FIRST_WORT:
        return "first wort";
    case WF_HOP_BOIL:
        return wf_arena_print(a, "%g min", addition->minutes);
    case WF_HOP_STAND:
        return wf_arena_print(a, "stand %g min %g C", addition->minutes, addition->celsius);
    case WF_HOP_DRY:
        return wf_arena_print(a, "dry %g days", days);
    case WF_HOP_USE_COUNT:
        break;
    }
    return "";
}

/* ---- Choices --------------------------------------------------------------------------------- */

static struct wf_addition addition_of(const struct wf_refit_work *w, const struct wf_refit_hop *h,
                                      enum wf_hop_use use, double minutes, double celsius)
{
    return (struct wf_addition){
        .use = use,
        .alpha = h->alpha,
        .minutes = use == WF_HOP_BOIL ? fmin(minutes, w->kettle.boil_minutes) : minutes,
        .celsius = celsius,
        .form = h->whole ? WF_WHOLE_HOPS : 1};
}

static enum wf_status ibu_of(struct wf_refit_work *w, const struct wf_addition *a, double *ibu)
{
    enum wf_status status = wf_ibu_per_gram(a, &w->kettle, w->from->predicted.boil_gravity, ibu);
    return status == WF_OK ? WF_OK
                           : wf_error_add(w->e, status, "hops at %s are outside the laws' range",
                                          wf_refit_at(w->arena, a, 0));
}

/* The choice of this hop at this time; `grams` fixed, or NaN: whole steps. */
static enum wf_status add_choice(struct wf_refit_work *w, size_t place,
                                 const struct wf_refit_pick *pick, double grams)
{
    const struct wf_refit_hop *h = &w->hops[pick->hop];
    const struct wf_brewhouse *b = w->o->brewhouse;
    double most = fmin(h->have_g, MOST_G_L * w->kettle.batch_l), ibu;
    size_t line = w->line[place];
    WF_TRY(ibu_of(w, &pick->addition, &ibu));
    struct wf_refit_choice c = {
        .place = place,
        .label = h->id,
        .step_g = isfinite(grams) ? grams : h->step_g,
        .ibu = ibu,
        .lot = (int)pick->hop,
        .same_hop = line != WF_NO_LINE && strcmp(w->from->hops[line].id, h->id) == 0,
    };
    c.least = isfinite(grams) ? 1 : fmax(1, ceil(b->least_hop_g / h->step_g - 1e-9));
    c.most = isfinite(grams) ? 1 : floor(most / h->step_g + 1e-9);
    w->choices[w->choice_count] = c;
    w->picks[w->choice_count++] = *pick;
    return WF_OK;
}

/* What was here, as it is now: its own hop at its own time. */
static enum wf_status set_stay(struct wf_refit_work *w, size_t place, bool may)
{
    const struct wf_recipe_hop *h = &w->from->hops[w->line[place]];
    struct wf_refit_place *p = &w->places[place];
    struct wf_refit_pick *pick = &w->stay[place];
    pick->hop = wf_refit_hop_of_line(w, h);
    pick->days = h->days;
    pick->addition = addition_of(w, &w->hops[pick->hop], h->addition.use, h->addition.minutes,
                                 h->addition.celsius);
    p->before_g = h->grams;
    p->may_stay = may;
    p->lot = (int)pick->hop;
    return ibu_of(w, &pick->addition, &p->before_ibu);
}

/* ---- The recipe's own additions -------------------------------------------------------------- */

static enum wf_status place_of_line(struct wf_refit_work *w, size_t line)
{
    const struct wf_recipe_hop *h = &w->from->hops[line];
    size_t place = w->place_count++;
    w->line[place] = line;
    w->fixed[place] = h->addition.use == WF_HOP_DRY || (wf_scale_keeps_dose(h) && !w->o->all);
    w->places[place] = (struct wf_refit_place){.label = h->id, .must = w->fixed[place]};
    WF_TRY(set_stay(w, place, true));
    return w->fixed[place] ? WF_OK : add_choice(w, place, &w->stay[place], NAN);
}

static enum wf_status own_places(struct wf_refit_work *w)
{
    for (size_t i = 0; i < w->from->hop_count; i++)
        if (w->from->hops[i].grams > 0)
            WF_TRY(place_of_line(w, i));
    return WF_OK;
}

/* ---- A schedule ------------------------------------------------------------------------------ */

/* The same use, and the hop that is named. */
static bool could_be(const struct wf_refit_slot *s, const struct wf_recipe_hop *h)
{
    return h->addition.use == s->use && h->grams > 0 &&
           (s->hop == NULL || wf_refit_is_called(s->hop, h->id, h->of, h->name));
}

/* At one of the place's times, too. */
static bool is_here(const struct wf_refit_work *w, const struct wf_refit_slot *s,
                    const struct wf_recipe_hop *h)
{
    if (!could_be(s, h))
        return false;
    if (s->use == WF_HOP_FIRST_WORT || s->use == WF_HOP_DRY)
        return true;
    if (s->use == WF_HOP_STAND)
        return fabs(s->minutes[0] - h->addition.minutes) < SAME_MINUTES &&
               fabs(s->celsius - h->addition.celsius) < SAME_MINUTES;
    for (size_t i = 0; i < s->minute_count; i++)
        if (fabs(fmin(s->minutes[i], w->kettle.boil_minutes) - h->addition.minutes) < SAME_MINUTES)
            return true;
    return false;
}

static bool is_taken(const struct wf_refit_work *w, size_t line)
{
    for (size_t k = 0; k < w->o->slots->count; k++)
        if (w->line[k] == line)
            return true;
    return false;
}

/* Which of the recipe's additions each place has: first those at its times, then those that it
 * moves. */
static void match_lines(struct wf_refit_work *w)
{
    const struct wf_refit_slots *s = w->o->slots;
    for (size_t k = 0; k < s->count; k++)
        w->line[k] = WF_NO_LINE;
    for (int moved = 0; moved <= 1; moved++)
        for (size_t k = 0; k < s->count; k++)
            for (size_t i = 0; i < w->from->hop_count && w->line[k] == WF_NO_LINE; i++) {
                const struct wf_recipe_hop *h = &w->from->hops[i];
                bool fits = moved ? could_be(&s->list[k], h) : is_here(w, &s->list[k], h);
                if (fits && !is_taken(w, i))
                    w->line[k] = i;
            }
}

/* The weight that is fixed for this place, NaN: none. A dose is met to the nearest step. */
static double fixed_grams(const struct wf_refit_work *w, const struct wf_refit_slot *s,
                          const struct wf_refit_hop *h)
{
    if (isfinite(s->dose))
        return fmax(1, round(s->dose * w->kettle.batch_l / h->step_g)) * h->step_g;
    return s->keep ? w->from->hops[w->line[w->place_count]].grams : s->grams;
}

static enum wf_status choices_of_hop(struct wf_refit_work *w, const struct wf_refit_slot *s,
                                     size_t hop)
{
    size_t place = w->place_count;
    const struct wf_refit_hop *h = &w->hops[hop];
    double grams = fixed_grams(w, s, h);
    for (size_t i = 0; i < s->minute_count; i++) {
        struct wf_refit_pick pick = {.hop = hop,
                                     .addition =
                                         addition_of(w, h, s->use, s->minutes[i], s->celsius),
                                     .days = s->days};
        const struct wf_refit_pick *stay = &w->stay[place];
        bool own = w->places[place].may_stay && stay->hop == hop && isfinite(grams) &&
                   fabs(grams - w->places[place].before_g) < 1e-9 &&
                   fabs(stay->addition.minutes - pick.addition.minutes) < SAME_MINUTES;
        if (!own) /* else it is what stays */
            WF_TRY(add_choice(w, place, &pick, grams));
    }
    return WF_OK;
}

static enum wf_status check_slot(const struct wf_refit_work *w, const struct wf_refit_slot *s,
                                 size_t line)
{
    bool fixed = isfinite(s->dose) || isfinite(s->grams);
    if (s->keep && line == WF_NO_LINE)
        return wf_error_add(w->e, WF_BAD_INPUT,
                            "schedule: '%s' keeps what the recipe has not: it has no such addition",
                            s->text);
    if (fixed && s->hop == NULL && line == WF_NO_LINE)
        return wf_error_add(w->e, WF_BAD_INPUT,
                            "schedule: '%s' fixes a weight: name its hop, as in \"10 min cascade "
                            "20 g\"",
                            s->text);
    if (s->hop == NULL && w->hop_count == 0)
        return wf_error_add(w->e, WF_BAD_INPUT,
                            "schedule: '%s' names no hop, and neither recipe nor store has any",
                            s->text);
    return WF_OK;
}

/* A fixed weight, of the hop that is named or was here; else each hop that may go here. */
static enum wf_status fill_slot(struct wf_refit_work *w, const struct wf_refit_slot *s)
{
    size_t place = w->place_count, hop;
    bool fixed = s->keep || isfinite(s->dose) || isfinite(s->grams);
    if (s->hop != NULL) {
        WF_TRY(wf_refit_hop_called(w, s->hop, &hop));
        return choices_of_hop(w, s, hop);
    }
    if (fixed)
        return choices_of_hop(w, s, w->stay[place].hop);
    for (hop = 0; hop < w->any_count; hop++)
        WF_TRY(choices_of_hop(w, s, hop));
    return WF_OK;
}

static enum wf_status place_of_slot(struct wf_refit_work *w, const struct wf_refit_slot *s)
{
    size_t place = w->place_count, line = w->line[place];
    bool fixed = s->keep || isfinite(s->dose) || isfinite(s->grams);
    WF_TRY(check_slot(w, s, line));
    w->fixed[place] = fixed;
    w->places[place] = (struct wf_refit_place){.label = s->text, .must = fixed, .lot = -1};
    if (line != WF_NO_LINE) {
        bool same = !fixed || s->keep ||
                    (isfinite(s->grams) && fabs(s->grams - w->from->hops[line].grams) < 1e-9);
        WF_TRY(set_stay(w, place, same && is_here(w, s, &w->from->hops[line])));
        w->stay[place].days = s->days;
    }
    WF_TRY(fill_slot(w, s));
    w->place_count++;
    return WF_OK;
}

/* The longest stand is the kettle's, whether or not anything goes in. */
static enum wf_status set_stand(struct wf_refit_work *w)
{
    const struct wf_refit_slots *s = w->o->slots;
    w->kettle.stand_minutes = 0;
    w->stand_celsius = w->stand_length = NAN;
    for (size_t i = 0; i < s->count; i++) {
        double worth;
        if (s->list[i].use != WF_HOP_STAND)
            continue;
        if (wf_stand_boil_minutes(s->list[i].minutes[0], s->list[i].celsius, &worth) != WF_OK)
            return wf_error_add(w->e, WF_BAD_INPUT, "schedule: '%s': outside 0..100 C",
                                s->list[i].text);
        if (!(worth > w->kettle.stand_minutes))
            continue;
        w->kettle.stand_minutes = worth;
        w->stand_length = s->list[i].minutes[0];
        w->stand_celsius = s->list[i].celsius;
    }
    return WF_OK;
}

/* ---- The whole ------------------------------------------------------------------------------- */

static size_t times_in_all(const struct wf_refit_options *o, size_t *places)
{
    size_t times = *places;
    for (size_t i = 0; o->slots != NULL && i < o->slots->count; i++)
        times += o->slots->list[i].minute_count;
    *places += o->slots != NULL ? o->slots->count : 0;
    return times;
}

static bool make_room(struct wf_refit_work *w)
{
    size_t places = w->from->hop_count, times = times_in_all(w->o, &places);
    w->choice_room = times * (w->hop_room > 0 ? w->hop_room : 1);
    w->places = wf_arena_alloc(w->arena, places, sizeof *w->places);
    w->line = wf_arena_alloc(w->arena, places, sizeof *w->line);
    w->fixed = wf_arena_alloc(w->arena, places, sizeof *w->fixed);
    w->stay = wf_arena_alloc(w->arena, places, sizeof *w->stay);
    w->choices = wf_arena_alloc(w->arena, w->choice_room, sizeof *w->choices);
    w->picks = wf_arena_alloc(w->arena, w->choice_room, sizeof *w->picks);
    w->lot_most_g = wf_arena_alloc(w->arena, w->hop_room, sizeof *w->lot_most_g);
    return w->places && w->line && w->fixed && w->stay && w->choices && w->picks && w->lot_most_g;
}

static enum wf_status fill_places(struct wf_refit_work *w)
{
    if (w->o->slots == NULL)
        return own_places(w);
    WF_TRY(set_stand(w));
    match_lines(w);
    for (size_t i = 0; i < w->o->slots->count; i++)
        WF_TRY(place_of_slot(w, &w->o->slots->list[i]));
    return WF_OK;
}

enum wf_status wf_refit_places(struct wf_refit_work *w)
{
    WF_TRY(wf_refit_list_hops(w));
    if (!make_room(w))
        return wf_error_add(w->e, WF_MEMORY, "out of memory");
    WF_TRY(fill_places(w));
    for (size_t i = 0; i < w->hop_count; i++)
        w->lot_most_g[i] = w->hops[i].have_g;
    w->problem = (struct wf_refit_problem){.places = w->places,
                                           .choices = w->choices,
                                           .place_count = w->place_count,
                                           .choice_count = w->choice_count,
                                           .lot_most_g = w->lot_most_g,
                                           .lot_count = w->hop_count,
                                           .notch_g = WF_SCALE_DOSE * w->kettle.batch_l};
    return WF_OK;
}
