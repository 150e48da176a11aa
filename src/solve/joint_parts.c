/*
 * One part of a recipe over a window of gravities, and how far hops stay the same.
 */
#include "solve/joint_parts.h"

#include "base/try.h"
#include "solve/hop_notes.h"

#include <math.h>
#include <string.h>

#define PART_GAP 0.6 /* what each part may leave of the gap */

static bool has_goal(const struct wf_joint *j, enum wf_goal goal)
{
    for (size_t k = 0; k < j->o->goal_count; k++)
        if (j->o->goals[k] == goal)
            return true;
    return false;
}

static struct wf_search_options part_options(const struct wf_joint *j)
{
    struct wf_search_options o = *j->o;
    o.gap *= PART_GAP;
    return o;
}

/* ---- The two parts --------------------------------------------------------------------------- */

struct grist_self {
    struct wf_grist_model *g;
    const struct wf_problem *p;
};

static void set_grist_goal(void *self, enum wf_goal goal)
{
    struct grist_self *s = self;
    wf_grist_model_goal(s->g, s->p, goal);
}

enum wf_status wf_joint_grist(struct wf_joint *j, const struct wf_span *s, double cutoff,
                              struct wf_part_answer *out)
{
    struct wf_grist_options g = {.og_low = s->low,
                                 .og_high = s->high,
                                 .yeast = j->yeast,
                                 .any_yeast = true,
                                 .aims = has_goal(j, WF_GOAL_CLOSEST),
                                 .change = has_goal(j, WF_GOAL_CHANGE)};
    struct wf_grist_model m;
    struct wf_search_options o = part_options(j);
    WF_TRY(wf_grist_model_make(j->p, &g, &m, j->e));
    struct grist_self self = {&m, j->p};
    struct wf_part part = {m.model, m.items, m.item_count, m.total, true, set_grist_goal, &self};
    o.cutoff = cutoff;
    enum wf_status status = wf_search(&part, &o, out, j->e);
    if (status == WF_OK && out->x != NULL)
        wf_grist_model_weights(&m, out->x, j->kg);
    wf_grist_model_free(&m);
    return status;
}

struct hop_self {
    struct wf_hop_model *h;
    const struct wf_problem *p;
};

static void set_hop_goal(void *self, enum wf_goal goal)
{
    struct hop_self *s = self;
    wf_hop_model_goal(s->h, s->p, goal);
}

/* Work that hops may take in any case: they are quickly proved, and a window's bound needs them. */
#define HOPS_WORK 2000

/* Into the note; its weights stand in j->grams. */
static enum wf_status search_hops(struct wf_joint *j, struct wf_hop_note *note)
{
    struct wf_hop_options h = {.og_low = note->low,
                               .og_high = note->high,
                               .aims = has_goal(j, WF_GOAL_CLOSEST),
                               .change = has_goal(j, WF_GOAL_CHANGE),
                               .counted = has_goal(j, WF_GOAL_FEWEST)};
    struct wf_hop_model m;
    struct wf_search_options o = part_options(j);
    WF_TRY(wf_hop_model_make(j->p, &h, &m, j->e));
    struct hop_self self = {&m, j->p};
    struct wf_part part = {m.model, m.items, m.item_count, -1, true, set_hop_goal, &self};
    o.cutoff = NAN;
    o.clock->grace = o.clock->work + HOPS_WORK;
    enum wf_status status = wf_search(&part, &o, &note->answer, j->e);
    o.clock->grace = 0;
    note->columns = (size_t)wf_model_columns(m.model);
    note->grams = j->grams;
    if (status == WF_OK && note->answer.x != NULL)
        wf_hop_model_grams(&m, note->answer.x, j->grams);
    wf_hop_model_free(&m);
    return status;
}

enum wf_status wf_joint_hops(struct wf_joint *j, double low, double high,
                             struct wf_part_answer *out)
{
    struct wf_hop_notes *notes = j->o->hops;
    struct wf_hop_note new = {.low = low, .high = high};
    const struct wf_hop_note *known =
        notes != NULL ? wf_hop_notes_find(notes, low, high, j->o->clock) : NULL;
    if (known != NULL) {
        if (known->grams != NULL)
            memcpy(j->grams, known->grams, j->p->place_count * sizeof *j->grams);
        return wf_hop_note_answer(known, out, j->e);
    }
    WF_TRY(search_hops(j, &new));
    *out = new.answer;
    if (notes == NULL)
        return WF_OK;
    enum wf_status status = wf_hop_notes_add(notes, &new, j->e);
    if (status != WF_OK)
        wf_part_answer_clear(out);
    return status;
}

double wf_joint_room(const struct wf_joint *j, size_t k)
{
    struct wf_search_options o = *j->o;
    o.least_room = wf_goal_room(j->o->goals[k]);
    return wf_search_room(&o, j->best.value[k]);
}

bool wf_joint_impossible(const struct wf_part_answer *a)
{
    return a->x == NULL && isinf(a->bound[0]) && a->bound[0] > 0;
}

/* ---- How far --------------------------------------------------------------------------------- */

/* Where cheaper hops do for a while, the next to ask about is where they no longer do: mostly the
 * answer. Where there are many such, the middle is better. */
#define LEAPS_MOST 3

enum wf_status wf_joint_same_hops_from(struct wf_joint *j, double low, double og,
                                       const struct wf_part_answer *at, double *from)
{
    double middle =
        low; /* all of it at first: what is narrower than WF_SPAN_LEAST is never split */
    int leaps = LEAPS_MOST;
    *from = og;
    while (og - low > WF_SPAN_LEAST && *from - low > WF_SPAN_LEAST) {
        struct wf_part_answer over = {0};
        WF_TRY(wf_joint_hops(j, middle, og, &over));
        bool same = true;
        for (size_t k = 0; k < j->o->asked; k++)
            same = same && over.bound[k] >= at->bound[k] - WF_JOINT_STEP_GAP * wf_joint_room(j, k);
        bool leap = !same && over.x != NULL && j->o->hops != NULL && leaps-- > 0;
        wf_part_answer_clear(&over);
        if (same)
            *from = middle;
        else
            low = leap ? wf_hop_notes_serve_until(j->o->hops, j->grams, middle, og) : middle;
        middle = leap ? fmin(low + WF_SPAN_LEAST / 2, og) : (low + *from) / 2;
    }
    return WF_OK;
}

enum wf_status wf_joint_no_hops_until(struct wf_joint *j, double og, double end, double *until)
{
    double middle = end, beyond = end;
    *until = og;
    do {
        struct wf_part_answer over = {0};
        WF_TRY(wf_joint_hops(j, fmin(og, middle), fmax(og, middle), &over));
        if (wf_joint_impossible(&over))
            *until = middle;
        else
            beyond = middle;
        wf_part_answer_clear(&over);
        middle = (*until + beyond) / 2;
    } while (fabs(beyond - *until) > WF_SPAN_LEAST);
    return WF_OK;
}
