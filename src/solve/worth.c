/*
 * What binds a recipe: see worth.h.
 *
 * Making several things easier at once saves no less than any one of them, so a set that together
 * saves nothing is done with in one search, and a set that saves little need not be looked into
 * while there are others. So sets are kept with a bound on what any member saves; the one of the
 * greatest bound is searched next, and halved if it saves something.
 */
#include "wortfit/worth.h"

#include "base/alloc.h"
#include "base/try.h"
#include "solve/clock.h"
#include "solve/eases.h"
#include "solve/search.h"
#include "solve/solve_parts.h"
#include "solve/yeast_place.h"

#include <math.h>

/* Work (clock.h) after which no more searches are begun, where the user set no time. */
#define WHOLE_WORK    400000
#define LEAST_SECONDS 0.05
#define GAP_ROOM      2.5e-4 /* of the value: the gaps of two searches */

static const struct {
    const char *word;
} lean_rows[] = {
#define WF_X(id, w) [WF_LEAN_##id] = {.word = w},
    WF_LEAN_LIST(WF_X)
#undef WF_X
};
_Static_assert(WF_COUNT_OF(lean_rows) == WF_LEAN_KIND_COUNT, "one row a kind");

const char *wf_lean_word(enum wf_lean_kind k)
{
    return lean_rows[k].word;
}

/* What of a goal is worth telling, in its own unit: of money a cent, of closeness and use what
 * nobody could tell by. */
static double least_telling(enum wf_goal goal)
{
    return fmax(goal == WF_GOAL_COST     ? 0.01
                : goal == WF_GOAL_FEWEST ? 1
                                         : 0,
                wf_goal_room(goal)) -
           1e-6;
}

/* Eases first .. first + count - 1, none of which saves more than `most`. */
struct set {
    size_t first, count;
    double most;
};

struct look {
    const struct wf_target *t;
    const struct wf_store *s, *shop;
    const struct wf_brewhouse *b;
    const struct wf_solve_options *o;
    struct wf_clock clock; /* of all searches together */
    const struct wf_recipe *r;
    const struct wf_ease *eases;
    struct wf_arena *arena;
    struct set *open;
    size_t open_count;
    struct wf_lean *leans; /* room for one an ease */
    size_t lean_count;
    struct wf_worth *worth;
    struct wf_error *e;
};

/* ---- One search ------------------------------------------------------------------------------ */

/* The difference, and what it is proved to be: the values lie between each bound and value. */
static void set_saving(const struct look *k, const struct wf_proof *after, struct wf_lean *saving)
{
    const struct wf_proof *before = &k->r->proofs[0];
    saving->saves = fmax(0, before->value - after->value);
    saving->least = fmax(0, before->bound - after->value);
    saving->most = fmax(0, before->value - after->bound);
}

/* *found false: no value was found in the time. */
static enum wf_status search(struct look *k, const struct wf_loose *l, struct wf_lean *saving,
                             bool *found)
{
    struct wf_solve_options o = *k->o;
    struct wf_recipe *r = NULL;
    struct wf_error e = {0};
    if (o.seconds > 0)
        o.seconds = fmax(LEAST_SECONDS, wf_clock_left(&k->clock));
    struct wf_clock clock = wf_clock_start(&o);
    enum wf_status status = wf_solve_by(&l->target, &l->store, k->b, &o, &clock, &r, &e);
    k->clock.work += clock.work;
    *found = status == WF_OK;
    if (*found)
        set_saving(k, &r->proofs[0], saving);
    wf_recipe_free(r);
    k->worth->tried++;
    if (status == WF_OK || status == WF_NO_RECIPE || status == WF_UNDECIDED)
        return WF_OK;
    return wf_error_add(k->e, status, "%s", e.text);
}

static enum wf_status ease(struct look *k, const struct set *s, struct wf_lean *saving, bool *found)
{
    struct wf_loose l = {.t = k->t, .s = k->s, .shop = k->shop};
    enum wf_status status = wf_loose_make(&l, k->eases + s->first, s->count, k->e);
    if (status == WF_OK)
        status = search(k, &l, saving, found);
    wf_loose_free(&l);
    return status;
}

/* ---- Sets ------------------------------------------------------------------------------------ */

static void push(struct look *k, size_t first, size_t count, double most)
{
    if (count > 0)
        k->open[k->open_count++] = (struct set){first, count, most};
}

/* The one that may save most; of those, the smallest, then the first. */
static struct set pop(struct look *k)
{
    size_t best = 0;
    for (size_t i = 1; i < k->open_count; i++) {
        const struct set *a = &k->open[i], *b = &k->open[best];
        bool before = a->count < b->count || (a->count == b->count && a->first < b->first);
        if (a->most > b->most || (!(a->most < b->most) && before))
            best = i;
    }
    struct set s = k->open[best];
    k->open[best] = k->open[--k->open_count];
    return s;
}

static bool tells(const struct look *k, const struct wf_lean *saving)
{
    return saving->least > 0 && saving->saves >= least_telling(k->worth->goal);
}

/* A set is halved if it saves something, or if its search left it open. */
static bool worth_halving(const struct look *k, const struct wf_lean *saving)
{
    double room = GAP_ROOM * fabs(k->r->proofs[0].value) + least_telling(k->worth->goal);
    return tells(k, saving) || saving->most > room;
}

static void note(struct look *k, size_t at, const struct wf_lean *saving)
{
    struct wf_lean lean = k->eases[at].lean;
    lean.saves = saving->saves;
    lean.least = saving->least;
    lean.most = saving->most;
    k->leans[k->lean_count++] = lean;
}

static bool out_of_time(const struct look *k)
{
    return wf_clock_left(&k->clock) <= 0;
}

static void give_up(struct look *k)
{
    while (k->open_count > 0)
        k->worth->untried += k->open[--k->open_count].count;
}

/* Whether `enough` leans noted since `from` save as much as any set that is left may. */
static bool enough_found(const struct look *k, size_t from, size_t enough, double most)
{
    size_t better = 0;
    for (size_t i = from; i < k->lean_count; i++)
        better += k->leans[i].saves >= most;
    return better >= enough;
}

static enum wf_status look_at(struct look *k, const struct set *s)
{
    struct wf_lean saving = {.saves = 0};
    bool found = false;
    WF_TRY(ease(k, s, &saving, &found));
    if (!found) {
        k->worth->untried += s->count;
        return WF_OK;
    }
    saving.most = fmin(saving.most, s->most);
    if (s->count > 1 && worth_halving(k, &saving)) {
        push(k, s->first, s->count / 2, saving.most);
        push(k, s->first + s->count / 2, s->count - s->count / 2, saving.most);
    } else if (s->count == 1 && tells(k, &saving)) {
        note(k, s->first, &saving);
    }
    return WF_OK;
}

/* All that is open, or the best so many of it. */
static enum wf_status hunt(struct look *k, size_t enough)
{
    size_t from = k->lean_count;
    while (k->open_count > 0 && !out_of_time(k)) {
        struct set s = pop(k);
        if (enough_found(k, from, enough, s.most)) {
            k->open_count = 0;
            break;
        }
        WF_TRY(look_at(k, &s));
    }
    give_up(k);
    return WF_OK;
}

/* ---- Result ---------------------------------------------------------------------------------- */

/* Greatest saving first; equals stay in order. */
static void sort_leans(struct wf_lean *leans, size_t count)
{
    for (size_t i = 1; i < count; i++) {
        struct wf_lean lean = leans[i];
        size_t at = i;
        for (; at > 0 && leans[at - 1].saves < lean.saves; at--)
            leans[at] = leans[at - 1];
        leans[at] = lean;
    }
}

/* Of a shop's malts, or hops, only the best are told. */
static void keep_best(struct look *k, size_t from)
{
    sort_leans(k->leans + from, k->lean_count - from);
    if (k->lean_count - from > WF_SHOP_LEANS_MOST)
        k->lean_count = from + WF_SHOP_LEANS_MOST;
}

static enum wf_status look_into(struct look *k, const struct wf_ease_list *list)
{
    const double any = INFINITY;
    size_t mine = list->tight + list->others;
    for (size_t i = 0; i < list->tight; i++)
        push(k, i, 1, any);
    push(k, list->tight, list->others, any);
    WF_TRY(hunt(k, mine + 1));
    for (int hops = 0; hops <= 1; hops++) {
        size_t from = k->lean_count;
        push(k, mine + (hops ? list->shop_malts : 0), hops ? list->shop_hops : list->shop_malts,
             any);
        WF_TRY(hunt(k, WF_SHOP_LEANS_MOST));
        keep_best(k, from);
    }
    sort_leans(k->leans, k->lean_count);
    return WF_OK;
}

/* Yeasts of the recipe's place only: with others the difference would be of yeasts too. */
static void hold_yeasts(struct wf_target *t, const struct wf_recipe *r, const char *one[2])
{
    long place = wf_yeast_place(t, r);
    if (place < 0)
        return;
    one[0] = t->yeasts[place];
    one[1] = NULL;
    t->yeasts = one;
}

static enum wf_status prepare(struct look *k, struct wf_recipe *r, struct wf_ease_list *list)
{
    struct wf_worth *worth = wf_arena_alloc(r->arena, 1, sizeof *worth);
    if (worth == NULL)
        return wf_error_add(k->e, WF_MEMORY, "out of memory");
    worth->goal = k->o->goal_count > 0 ? k->o->goals[0] : WF_GOAL_COST;
    worth->shopped = k->shop != NULL;
    if (k->shop != NULL)
        worth->shop_note = wf_arena_string(r->arena, k->shop->note);
    k->worth = worth;
    WF_TRY(wf_eases_list(r, k->t, k->s, k->b, k->o->today, worth->goal, k->shop, k->arena, list,
                         k->e));
    size_t room = list->tight + list->others + list->shop_malts + list->shop_hops + 1;
    k->eases = list->items;
    k->open = wf_arena_alloc(k->arena, room, sizeof *k->open);
    k->leans = wf_arena_alloc(r->arena, room, sizeof *k->leans);
    bool good = k->open != NULL && k->leans != NULL &&
                (k->shop == NULL || k->shop->note == NULL || worth->shop_note != NULL);
    return good ? WF_OK : wf_error_add(k->e, WF_MEMORY, "out of memory");
}

static enum wf_status look(struct look *k, struct wf_recipe *r)
{
    struct wf_ease_list list = {0};
    WF_TRY(prepare(k, r, &list));
    WF_TRY(look_into(k, &list));
    k->worth->leans = k->leans;
    k->worth->lean_count = k->lean_count;
    r->worth = k->worth;
    return WF_OK;
}

enum wf_status wf_recipe_add_worth(struct wf_recipe *r, const struct wf_target *t,
                                   const struct wf_store *s, const struct wf_brewhouse *b,
                                   const struct wf_solve_options *o, const struct wf_store *shop,
                                   struct wf_error *e)
{
    const char *yeast[2];
    struct wf_target target = *t;
    struct look k = {.t = &target,
                     .s = s,
                     .shop = shop,
                     .b = b,
                     .o = o,
                     .clock = wf_clock_start(o),
                     .r = r,
                     .e = e};
    k.clock.enough = WHOLE_WORK;
    r->worth = NULL;
    if (r->status == WF_RECIPE_NONE || r->proof_count == 0)
        return wf_error_add(e, WF_BAD_INPUT,
                            "only of a recipe that meets every wish, with its proof, can be told "
                            "what binds it");
    hold_yeasts(&target, r, yeast);
    k.arena = wf_arena_new();
    if (k.arena == NULL)
        return wf_error_add(e, WF_MEMORY, "out of memory");
    enum wf_status status = look(&k, r);
    wf_arena_free(k.arena);
    return status;
}
