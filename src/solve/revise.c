/* revise.c: the recipes that change least: see revise.h. */
#include "wortfit/revise.h"

#include "base/alloc.h"
#include "base/try.h"
#include "model/change.h"

#include <math.h>
#include <string.h>

void wf_revision_none(struct wf_revision *v)
{
    struct wf_range any = wf_range_any();
    *v = (struct wf_revision){
        .og = any, .colour = any, .ratio = any, .bitterness = any, .fg = any, .abv = any};
    for (int w = 0; w < WF_WORD_COUNT; w++)
        v->words[w] = any;
}

/* ---- The target ------------------------------------------------------------------------------ */

static void change_figures(struct wf_target *t, const struct wf_revision *v)
{
    bool bitter = !wf_range_is_any(v->ratio) || !wf_range_is_any(v->bitterness);
    if (!wf_range_is_any(v->og)) {
        t->og = v->og;
        t->fg = v->fg; /* another gravity ferments to another */
    }
    if (!wf_range_is_any(v->colour))
        t->colour = v->colour;
    if (bitter) {
        t->ratio = v->ratio;
        t->bitterness = v->bitterness;
    }
    if (!wf_range_is_any(v->fg))
        t->fg = v->fg;
    t->abv = v->abv;
}

static struct wf_range looser(struct wf_range r, double times)
{
    double room = (r.high - r.aim) * times;
    return isnan(r.aim) ? r : (struct wf_range){fmax(0, r.aim - room), r.aim + room, r.aim};
}

static bool is_hop_word(enum wf_word w)
{
    return w >= WF_MALT_WORD_COUNT;
}

/* Whether words of the malts, or of the late hops, are wished otherwise. */
static bool asks_words(const struct wf_revision *v, bool of_hops)
{
    for (int w = 0; w < WF_WORD_COUNT; w++)
        if (!wf_range_is_any(v->words[w]) && is_hop_word((enum wf_word)w) == of_hops)
            return true;
    return false;
}

static enum wf_status change_words(struct wf_target *t, const struct wf_revision *v)
{
    struct wf_word_wish *wishes = wf_arena_alloc(t->arena, t->wish_count, sizeof *wishes);
    if (!wishes)
        return WF_MEMORY;
    for (size_t i = 0; i < t->wish_count; i++) {
        struct wf_range wanted = v->words[t->wishes[i].word];
        wishes[i] = t->wishes[i];
        if (!wf_range_is_any(wanted))
            wishes[i].index = wanted;
        else if (asks_words(v, is_hop_word(wishes[i].word)))
            wishes[i].index = looser(wishes[i].index, WF_HOLD_OTHER_WORDS);
    }
    t->wishes = wishes;
    if (asks_words(v, false) && wf_range_is_any(v->colour))
        t->colour = looser(t->colour, WF_HOLD_WITH_WORDS);
    return WF_OK;
}

#define DOSE_MOST 25.0 /* g/L: beyond the hoppiest beers */

static enum wf_status free_doses(struct wf_target *t, const struct wf_revision *v)
{
    struct wf_slot *slots = wf_arena_alloc(t->arena, t->slot_count, sizeof *slots);
    if (!slots)
        return WF_MEMORY;
    for (size_t i = 0; i < t->slot_count; i++) {
        slots[i] = t->slots[i];
        if (slots[i].dosed && asks_words(v, true))
            slots[i].dose = (struct wf_range){0, DOSE_MOST, (double)NAN};
    }
    t->slots = slots;
    return WF_OK;
}

static enum wf_status add_rules(struct wf_target *t, const struct wf_rule *rules, size_t count)
{
    struct wf_rule *all = wf_arena_alloc(t->arena, t->rule_count + count, sizeof *all);
    if (!all)
        return WF_MEMORY;
    memcpy(all, t->rules, t->rule_count * sizeof *all);
    if (count > 0)
        memcpy(all + t->rule_count, rules, count * sizeof *all);
    t->rules = all;
    t->rule_count += count;
    return WF_OK;
}

static size_t length_of(const char *const *list)
{
    size_t n = 0;
    while (list && list[n])
        n++;
    return n;
}

/* *list and more, in the target's arena. */
static enum wf_status join(struct wf_target *t, const char *const **list, const char *const *more)
{
    size_t had = length_of(*list), count = length_of(more);
    const char **all = wf_arena_alloc(t->arena, had + count + 1, sizeof *all);
    if (!all)
        return WF_MEMORY;
    for (size_t i = 0; i < had; i++)
        all[i] = (*list)[i];
    for (size_t i = 0; i < count; i++)
        all[had + i] = more[i];
    *list = all;
    return WF_OK;
}

static enum wf_status make_target(const struct wf_recipe *r, const struct wf_revision *v,
                                  double loose, struct wf_target **out, struct wf_error *e)
{
    WF_TRY(wf_recipe_target(r, loose, out, e));
    struct wf_target *t = *out;
    enum wf_status status;
    change_figures(t, v);
    WF_TRY_GOTO(change_words(t, v));
    WF_TRY_GOTO(free_doses(t, v));
    WF_TRY_GOTO(add_rules(t, v->rules, v->rule_count));
    WF_TRY_GOTO(join(t, &t->use, v->use));
    WF_TRY_GOTO(join(t, &t->avoid, v->avoid));
    if (v->also) {
        WF_TRY_GOTO(add_rules(t, v->also->rules, v->also->rule_count));
        WF_TRY_GOTO(join(t, &t->use, v->also->use));
        WF_TRY_GOTO(join(t, &t->avoid, v->also->avoid));
        t->only = v->also->only;
    }
done:
    return status == WF_OK ? WF_OK : wf_error_add(e, status, "out of memory");
}

/* ---- What is gone ---------------------------------------------------------------------------- */

/* Whether a lot of the store is that line of the recipe, and there is some of it. */
static bool has_malt(const struct wf_store *s, const struct wf_recipe *r, int line)
{
    for (size_t i = 0; i < s->malt_count; i++)
        if (s->malts[i].have_kg > 0 && wf_change_malt_lot(r, &s->malts[i]) == line)
            return true;
    return false;
}

static bool has_hop(const struct wf_store *s, const struct wf_recipe *r, int line)
{
    for (size_t i = 0; i < s->hop_count; i++)
        if (s->hops[i].have_g > 0 && wf_change_hop_lot(r, &s->hops[i], line))
            return true;
    return false;
}

/* The recipe with what is gone marked: a copy that borrows all but its lines. */
static enum wf_status mark_gone(const struct wf_recipe *r, const struct wf_store *s,
                                struct wf_recipe *out, struct wf_arena *arena)
{
    *out = *r;
    out->malts = wf_arena_alloc(arena, r->malt_count, sizeof *out->malts);
    out->hops = wf_arena_alloc(arena, r->hop_count, sizeof *out->hops);
    if (!out->malts || !out->hops)
        return WF_MEMORY;
    for (size_t i = 0; i < r->malt_count; i++) {
        out->malts[i] = r->malts[i];
        out->malts[i].gone = !has_malt(s, r, wf_change_malt_of(r, &r->malts[i]));
    }
    for (size_t i = 0; i < r->hop_count; i++) {
        out->hops[i] = r->hops[i];
        out->hops[i].gone = !has_hop(s, r, (int)i);
    }
    return WF_OK;
}

/* ---- The search ------------------------------------------------------------------------------ */

static enum wf_status at_multiple(const struct wf_recipe *r, const struct wf_revision *v,
                                  const struct wf_store *s, const struct wf_brewhouse *b,
                                  const struct wf_solve_options *o, size_t wanted, double loose,
                                  struct wf_alternatives **out, struct wf_error *e)
{
    struct wf_solve_options options = *o;
    struct wf_target *t = NULL;
    enum wf_status status;
    options.goals[0] = WF_GOAL_CHANGE;
    options.goal_count = 1;
    options.from = r;
    WF_TRY_GOTO(make_target(r, v, loose, &t, e));
    status = wf_solve_alternatives(t, s, b, &options, wanted, out, e);
done:
    wf_target_free(t);
    return status;
}

/* The multiples one after the other; of the first, what was found where there is no recipe. */
static enum wf_status at_multiples(const struct wf_recipe *r, const struct wf_revision *v,
                                   const struct wf_store *s, const struct wf_brewhouse *b,
                                   const struct wf_solve_options *o, size_t wanted,
                                   struct wf_revised *out, struct wf_error *e)
{
    static const double multiple[] = WF_LOOSER_LIST;
    struct wf_error why = {0};
    for (size_t i = 0; i < WF_COUNT_OF(multiple); i++) {
        struct wf_alternatives *found = NULL;
        struct wf_error now = {0};
        enum wf_status status = at_multiple(r, v, s, b, o, wanted, multiple[i], &found, &now);
        bool none = status == WF_NO_RECIPE || status == WF_UNDECIDED;
        if (i == 0)
            why = now;
        if (i == 0 || status == WF_OK) {
            wf_revised_clear(out);
            *out = (struct wf_revised){.found = found, .loose = status == WF_OK ? multiple[i] : 1};
        } else {
            wf_alternatives_free(found);
        }
        if (status == WF_OK)
            return WF_OK;
        if (!none) {
            wf_revised_clear(out);
            *e = now;
            return status;
        }
    }
    if (why.status == WF_NO_RECIPE)
        WF_TRY(make_target(r, v, 1, &out->target, e));
    *e = why;
    return e->status;
}

enum wf_status wf_recipe_revise(const struct wf_recipe *r, const struct wf_revision *v,
                                const struct wf_store *s, const struct wf_brewhouse *b,
                                const struct wf_solve_options *o, size_t wanted,
                                struct wf_revised *out, struct wf_error *e)
{
    struct wf_arena *arena = wf_arena_new();
    struct wf_recipe marked;
    *out = (struct wf_revised){.loose = 1};
    enum wf_status status = arena ? mark_gone(r, s, &marked, arena) : WF_MEMORY;
    if (status == WF_OK)
        status = at_multiples(&marked, v, s, b, o, wanted, out, e);
    else
        wf_error_add(e, status, "out of memory");
    wf_arena_free(arena);
    return status;
}

void wf_revised_clear(struct wf_revised *v)
{
    wf_alternatives_free(v->found);
    wf_target_free(v->target);
    *v = (struct wf_revised){0};
}

bool wf_wish_lost(const struct wf_wish_result *w, double loose)
{
    double room = (w->wanted.high - w->wanted.aim) / loose;
    return isfinite(room) && fabs(w->got - w->wanted.aim) > room * (1 + 1e-6) + 1e-9;
}
