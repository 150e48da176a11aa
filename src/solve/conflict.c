/*
 * The method is U. Junker's QuickXplain ("Preferred explanations and relaxations for
 * over-constrained problems", AAAI 2004): halves of the list are held while the other half is
 * searched, so that a conflict of k among n demands takes about 2 k log(n / k) searches.
 *
 * First the store is held as it is, which keeps these searches small: that gives the wishes of the
 * conflict. Then each part of the store is let go in turn where the conflict stands without it.
 * Both together cannot be reduced: a wish was needed with the whole store held, so it is with a
 * part of it.
 */
#include "solve/conflict.h"

#include "base/alloc.h"
#include "base/try.h"

#include <math.h>

struct quest {
    struct wf_inquiry *q;
    bool *hold;          /* one a demand; in the end: the conflict */
    const size_t *order; /* demands to look at */
};

enum wf_status wf_conflict_ask(struct wf_inquiry *q, const bool *hold, enum wf_exists *out)
{
    size_t n = q->relax.count, count = 0;
    struct wf_give *gives = wf_alloc(n, sizeof *gives);
    if (gives == NULL)
        return wf_error_add(q->e, WF_MEMORY, "out of memory");
    for (size_t i = 0; i < n; i++)
        if (!hold[i])
            gives[count++] = (struct wf_give){i, WF_GIVE_ALL, NAN};
    enum wf_status status = wf_inquiry_ask(q, gives, count, out);
    wf_free(gives);
    return status;
}

static void set(struct quest *s, size_t first, size_t count, bool held)
{
    for (size_t i = first; i < first + count; i++)
        s->hold[s->order[i]] = held;
}

static bool any_held(const struct quest *s, size_t first, size_t count)
{
    for (size_t i = first; i < first + count; i++)
        if (s->hold[s->order[i]])
            return true;
    return false;
}

/*
 * Of order[first..first + count), none of them held, leaves held what is needed to have a conflict
 * with what is held already. `grown`: more is held than when last asked. Where it is not known
 * whether there is a recipe, there may be one, so more is looked for: too much is held rather than
 * too little.
 */
static enum wf_status needed(struct quest *s, size_t first, size_t count, bool grown)
{
    enum wf_exists exists = WF_EXISTS_YES;
    if (grown)
        WF_TRY(wf_conflict_ask(s->q, s->hold, &exists));
    if (exists == WF_EXISTS_NO || count == 0)
        return WF_OK;
    if (count == 1) {
        set(s, first, 1, true);
        return WF_OK;
    }
    size_t half = count / 2;
    set(s, first, half, true);
    WF_TRY(needed(s, first + half, count - half, true));
    set(s, first, half, false);
    return needed(s, first, half, any_held(s, first + half, count - half));
}

/* Lets go of the parts of the store that the conflict does without, what a brewer would get first
 * last. A part that stays was needed. */
static enum wf_status let_store_go(struct quest *s, bool *sure)
{
    for (size_t i = s->q->relax.count; i-- > s->q->relax.stock;) {
        enum wf_exists exists;
        s->hold[i] = false;
        WF_TRY(wf_conflict_ask(s->q, s->hold, &exists));
        s->hold[i] = exists != WF_EXISTS_NO;
        *sure = *sure && exists != WF_EXISTS_UNKNOWN;
    }
    return WF_OK;
}

/* Whether each wish is needed, with the whole store held. */
static enum wf_status prove(struct quest *s, bool *sure)
{
    for (size_t i = 0; *sure && i < s->q->relax.stock; i++) {
        enum wf_exists exists;
        if (!s->hold[i])
            continue;
        s->hold[i] = false;
        WF_TRY(wf_conflict_ask(s->q, s->hold, &exists));
        s->hold[i] = true;
        *sure = exists == WF_EXISTS_YES;
    }
    return WF_OK;
}

enum wf_status wf_conflict_find(struct wf_inquiry *q, const bool *aside, bool *member,
                                bool *irreducible)
{
    size_t count = 0;
    size_t *order = wf_alloc(q->relax.stock, sizeof *order);
    struct quest s = {.q = q, .hold = member, .order = order};
    enum wf_status status = WF_OK;
    if (order == NULL)
        return wf_error_add(q->e, WF_MEMORY, "out of memory");
    for (size_t i = 0; i < q->relax.count; i++) {
        member[i] = i >= q->relax.stock;
        if (i < q->relax.stock && !aside[i])
            order[count++] = i;
    }
    *irreducible = true;
    WF_TRY_GOTO(needed(&s, 0, count, true));
    WF_TRY_GOTO(prove(&s, irreducible));
    WF_TRY_GOTO(let_store_go(&s, irreducible));
done:
    wf_free(order);
    return status;
}
