#include "solve/inquiry.h"

#include "base/alloc.h"
#include "base/try.h"
#include "solve/solve_parts.h"

#include <math.h>
#include <string.h>

/* Any recipe will do. */
#define ANY_GAP 1e9
/* Of one question, of the cheapest recipe, and of all together: linear programs, some 20
 * microseconds each, and, where the user set a time, seconds. */
#define ASK_WORK         15000
#define CHEAPEST_WORK    30000
#define WHOLE_WORK       120000
#define ASK_SECONDS      1.0
#define CHEAPEST_SECONDS 2.0

void wf_inquiry_start(struct wf_inquiry *q)
{
    q->clock = wf_clock_start(q->o);
    q->clock.enough = WHOLE_WORK;
}

bool wf_inquiry_out_of_time(struct wf_inquiry *q)
{
    bool out = wf_clock_left(&q->clock) <= 0;
    q->complete = q->complete && !out;
    return out;
}

/* The clock of one question. */
static struct wf_clock part_of(const struct wf_inquiry *q, const struct wf_solve_options *o,
                               bool cheapest)
{
    struct wf_clock c = wf_clock_start(o);
    c.limit = wf_clock_left(&q->clock);
    c.enough = cheapest ? CHEAPEST_WORK : ASK_WORK;
    if (o->seconds > 0)
        c.limit = fmin(c.limit, cheapest ? CHEAPEST_SECONDS : ASK_SECONDS);
    return c;
}

/* Within its own time. What the laws or the solver cannot answer for stays unknown; that memory ran
 * out, and that the user stopped it, is passed on. */
enum wf_status wf_inquiry_search(struct wf_inquiry *q, const struct wf_relaxed *r, bool cheapest,
                                 enum wf_exists *out, struct wf_recipe **recipe)
{
    const struct wf_solve_options o = {.goals = {WF_GOAL_COST},
                                       .goal_count = 1,
                                       .seconds = q->o->seconds,
                                       .gap = cheapest ? 0 : ANY_GAP,
                                       .today = q->o->today,
                                       .cancel = q->o->cancel};
    struct wf_clock clock = part_of(q, &o, cheapest);
    enum wf_goal goals[WF_GOAL_COUNT];
    struct wf_search_options options = wf_solve_search_options(&o, goals, &clock);
    struct wf_error why = {0};
    struct wf_problem p = {0};
    struct wf_answer a = {0};
    enum wf_status status;
    q->solves++;
    WF_TRY_GOTO(wf_problem_make(&r->target, &r->store, q->b, o.today, &p, &why));
    WF_TRY_GOTO(wf_solve_search(&p, &options, &a, &why));
    *out = a.outcome == WF_OUTCOME_INFEASIBLE ? WF_EXISTS_NO : WF_EXISTS_UNKNOWN;
    if (a.kg != NULL) {
        WF_TRY_GOTO(wf_solve_found(&p, &a, &options, recipe, &why));
        *out = WF_EXISTS_YES;
    }
done:
    q->clock.work += clock.work;
    wf_answer_clear(&a);
    wf_problem_free(&p);
    if (status == WF_MEMORY || status == WF_CANCELLED)
        return wf_error_add(q->e, status, "%s", why.text);
    if (status != WF_OK)
        *out = WF_EXISTS_UNKNOWN;
    q->complete = q->complete && *out != WF_EXISTS_UNKNOWN;
    return WF_OK;
}

/* Tells the user's progress function that the work goes on; there is no value to tell. */
static void tell(const struct wf_inquiry *q)
{
    if (q->o->progress != NULL)
        q->o->progress(q->o->progress_data, wf_clock_seconds(&q->clock), (double)NAN, (double)NAN);
}

/* ---- Questions that are answered already ----------------------------------------------------- */

#define WORD_BITS 64

static size_t words_of(const struct wf_inquiry *q)
{
    return q->relax.count / WORD_BITS + 1;
}

/* Whether nothing is moved or let in, but only left out. */
static bool only_left_out(const struct wf_give *gives, size_t count)
{
    for (size_t i = 0; i < count; i++)
        if (gives[i].lot != WF_GIVE_ALL)
            return false;
    return true;
}

/* Bits of what is left out; NULL: out of memory. */
static uint64_t *left_out_by(struct wf_inquiry *q, const struct wf_give *gives, size_t count)
{
    uint64_t *bits = wf_arena_alloc(q->arena, words_of(q), sizeof *bits);
    for (size_t i = 0; bits != NULL && i < count; i++)
        bits[gives[i].demand / WORD_BITS] |= UINT64_C(1) << gives[i].demand % WORD_BITS;
    if (bits == NULL)
        wf_error_add(q->e, WF_MEMORY, "out of memory");
    return bits;
}

/* Whether all bits of a are in b. */
static bool within(const struct wf_inquiry *q, const uint64_t *a, const uint64_t *b)
{
    for (size_t i = 0; i < words_of(q); i++)
        if ((a[i] & ~b[i]) != 0)
            return false;
    return true;
}

static enum wf_exists recall(const struct wf_inquiry *q, const uint64_t *left_out)
{
    for (size_t i = 0; i < q->asked_count; i++) {
        const struct wf_asked *a = &q->asked[i];
        if (a->exists == WF_EXISTS_YES && within(q, a->left_out, left_out))
            return WF_EXISTS_YES;
        if (a->exists == WF_EXISTS_NO && within(q, left_out, a->left_out))
            return WF_EXISTS_NO;
    }
    return WF_EXISTS_UNKNOWN;
}

static enum wf_status remember(struct wf_inquiry *q, const uint64_t *left_out,
                               enum wf_exists exists)
{
    if (exists == WF_EXISTS_UNKNOWN)
        return WF_OK;
    if (q->asked_count == q->asked_room) {
        size_t room = 2 * q->asked_room + 32;
        struct wf_asked *asked = wf_arena_alloc(q->arena, room, sizeof *asked);
        if (asked == NULL)
            return wf_error_add(q->e, WF_MEMORY, "out of memory");
        if (q->asked_count > 0)
            memcpy(asked, q->asked, q->asked_count * sizeof *asked);
        q->asked = asked;
        q->asked_room = room;
    }
    q->asked[q->asked_count++] = (struct wf_asked){left_out, exists};
    return WF_OK;
}

/* ---- Asking ---------------------------------------------------------------------------------- */

static enum wf_status ask(struct wf_inquiry *q, const struct wf_give *gives, size_t count,
                          enum wf_exists *out)
{
    struct wf_relaxed r = {0};
    struct wf_recipe *recipe = NULL;
    tell(q);
    enum wf_status status = wf_relaxed_make(&q->relax, gives, count, &r, q->e);
    if (status == WF_OK)
        status = wf_inquiry_search(q, &r, false, out, &recipe);
    wf_recipe_free(recipe);
    wf_relaxed_free(&r);
    return status;
}

/* Of demands that are left out: not asked where the answer is known. */
static enum wf_status ask_once(struct wf_inquiry *q, const struct wf_give *gives, size_t count,
                               enum wf_exists *out)
{
    const uint64_t *left_out = left_out_by(q, gives, count);
    if (left_out == NULL)
        return WF_MEMORY;
    *out = recall(q, left_out);
    if (*out != WF_EXISTS_UNKNOWN || wf_inquiry_out_of_time(q))
        return WF_OK;
    WF_TRY(ask(q, gives, count, out));
    return remember(q, left_out, *out);
}

enum wf_status wf_inquiry_ask(struct wf_inquiry *q, const struct wf_give *gives, size_t count,
                              enum wf_exists *out)
{
    if (only_left_out(gives, count))
        return ask_once(q, gives, count, out);
    *out = WF_EXISTS_UNKNOWN;
    return wf_inquiry_out_of_time(q) ? WF_OK : ask(q, gives, count, out);
}
