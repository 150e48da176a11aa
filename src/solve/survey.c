/*
 * The survey: see survey.h. A few threads take the beers one after the other; each writes only to
 * its own beer's place.
 */
#include "wortfit/survey.h"

#include "base/alloc.h"
#include "base/try.h"
#include "solve/closeness.h"
#include "solve/solve_parts.h"
#include "solve/survey_buy.h"
#include "solve/survey_single.h"

#include <math.h>
#include <pthread.h>
#include <stdint.h>
#include <string.h>
#include <unistd.h>

static const struct {
    const char *word, *text;
} verdict_rows[] = {
#define WF_X(id, w, t) [WF_VERDICT_##id] = {.word = w, .text = t},
    WF_VERDICT_LIST(WF_X)
#undef WF_X
};
_Static_assert(WF_COUNT_OF(verdict_rows) == WF_VERDICT_COUNT, "one row a verdict");

const char *wf_verdict_word(enum wf_verdict v)
{
    return verdict_rows[v].word;
}

const char *wf_verdict_text(enum wf_verdict v)
{
    return verdict_rows[v].text;
}

/* Linear programs spent on one beer before it is left open: several times what any built-in beer
 * takes of an ordinary store; so that a store of hundreds of lots takes seconds, not minutes. */
#define WORK_MOST 60000

/* What the threads share. From `next` on it is written under the lock only. */
struct work {
    struct wf_survey *survey;
    const struct wf_store *store;
    const struct wf_store *joined; /* with the shop's lots; NULL: no shop */
    const struct wf_singles *singles;
    bool **makes;    /* [beer * WF_KIND_COUNT + kind][lot] */
    bool *undecided; /* one a beer */
    enum wf_status (*look)(struct work *, size_t, struct wf_error *); /* at one beer */
    const struct wf_brewhouse *brewhouse;
    const struct wf_survey_options *o;
    struct wf_solve_options search; /* its progress is told by beers instead */
    double start;
    pthread_mutex_t lock;
    size_t next;
    size_t failed_at; /* the first beer, by its place, of which the look failed */
    struct wf_error *e;
};

/* ---- One beer -------------------------------------------------------------------------------- */

/* What a search is made of, for one beer from one store. */
struct look {
    struct wf_clock clock;
    enum wf_goal goals[WF_GOAL_COUNT];
    struct wf_search_options options;
    struct wf_problem p;
    struct wf_answer a;
};

static enum wf_status look_begin(struct look *l, const struct work *w,
                                 const struct wf_solve_options *o, const struct wf_target *t,
                                 const struct wf_store *s, struct wf_error *e)
{
    *l = (struct look){.clock = wf_clock_start(o)};
    l->clock.enough = WORK_MOST;
    l->options = wf_solve_search_options(o, l->goals, &l->clock);
    return wf_problem_make(t, s, w->brewhouse, o->today, &l->p, e);
}

static void look_end(struct look *l)
{
    wf_answer_clear(&l->a);
    wf_problem_free(&l->p);
}

/* Fills the beer from what a search of its own came to: a recipe, the nearest one, or neither. */
static enum wf_status take(struct wf_surveyed *beer, enum wf_status found, enum wf_verdict with,
                           struct wf_error *why, struct wf_error *e)
{
    if (found != WF_OK && found != WF_NO_RECIPE && found != WF_UNDECIDED)
        return wf_error_add(e, found, "%s", why->text);
    beer->verdict = found == WF_OK          ? with
                    : found == WF_NO_RECIPE ? WF_VERDICT_NOT
                                            : WF_VERDICT_OPEN;
    if (beer->recipe != NULL)
        beer->off_aims = wf_closeness(beer->target, &beer->recipe->predicted);
    return WF_OK;
}

/* *none: it is proved that the store alone does not do, and there is a shop to go to. */
static enum wf_status from_store(struct work *w, struct wf_surveyed *beer, bool *none,
                                 struct wf_error *e)
{
    struct look l;
    struct wf_error why = {0};
    *none = false;
    enum wf_status status = look_begin(&l, w, &w->search, beer->target, w->store, e);
    if (status != WF_OK)
        return status;
    WF_TRY_GOTO(wf_solve_search(&l.p, &l.options, &l.a, e));
    *none = l.a.kg == NULL && l.a.outcome == WF_OUTCOME_INFEASIBLE && w->joined != NULL;
    if (!*none) {
        enum wf_status found = wf_solve_conclude(&l.p, &l.options, &l.a, &beer->recipe, &why);
        status = take(beer, found, WF_VERDICT_NOW, &why, e);
    }
done:
    look_end(&l);
    return status;
}

static enum wf_status keep_basket(struct work *w, struct wf_surveyed *beer, struct look *l,
                                  struct wf_error *e)
{
    return wf_buy_basket(&l->p, &l->a, w->store, &beer->basket, &beer->basket_count, e);
}

static enum wf_status with_shop(struct work *w, struct wf_surveyed *beer, struct wf_error *e)
{
    struct look l;
    struct wf_error why = {0};
    struct wf_solve_options o = w->search;
    o.goal_count = 1;
    o.goals[0] = WF_GOAL_COST; /* of what is bought, the rest being free */
    enum wf_status status = look_begin(&l, w, &o, beer->target, w->joined, e);
    if (status != WF_OK)
        return status;
    wf_buy_level_yeasts(&l.p);
    enum wf_status found = wf_solve_first(&l.p, &l.options, &l.a, &beer->recipe, &why);
    status = take(beer, found, WF_VERDICT_BUY, &why, e);
    if (status == WF_OK && beer->verdict == WF_VERDICT_BUY)
        status = keep_basket(w, beer, &l, e);
    look_end(&l);
    return status;
}

static enum wf_status look_at(struct work *w, size_t i, struct wf_error *e)
{
    struct wf_surveyed *beer = &w->survey->beers[i];
    bool none;
    WF_TRY(from_store(w, beer, &none, e));
    return none ? with_shop(w, beer, e) : WF_OK;
}

/* Which lots of the shop make it alone, if it can be made by buying at all. */
static enum wf_status look_for_singles(struct work *w, size_t i, struct wf_error *e)
{
    const struct wf_surveyed *beer = &w->survey->beers[i];
    if (beer->verdict != WF_VERDICT_BUY)
        return WF_OK;
    return wf_singles_find(w->singles, beer->target, w->brewhouse, &w->search,
                           &w->makes[i * WF_KIND_COUNT], &w->undecided[i], e);
}

/* ---- All beers ------------------------------------------------------------------------------- */

/* The next beer to look at; false: none is left, or one failed. */
static bool take_next(struct work *w, size_t *i)
{
    pthread_mutex_lock(&w->lock);
    bool more = w->next < w->survey->count && w->failed_at == SIZE_MAX;
    if (more)
        *i = w->next++;
    if (more && w->o->solve.progress != NULL)
        w->o->solve.progress(w->o->solve.progress_data, wf_seconds_now() - w->start, (double)NAN,
                             (double)NAN);
    pthread_mutex_unlock(&w->lock);
    return more;
}

/* Of several that fail, the first beer's message is told. */
static void note_failure(struct work *w, size_t i, const struct wf_error *e)
{
    pthread_mutex_lock(&w->lock);
    if (i < w->failed_at) {
        w->failed_at = i;
        if (w->e != NULL)
            *w->e = *e;
    }
    pthread_mutex_unlock(&w->lock);
}

static void *worker(void *data)
{
    struct work *w = data;
    size_t i;
    while (take_next(w, &i)) {
        struct wf_error e = {0};
        if (w->look(w, i, &e) != WF_OK)
            note_failure(w, i, &e);
    }
    return NULL;
}

static size_t thread_count(const struct work *w)
{
    long online = sysconf(_SC_NPROCESSORS_ONLN);
    size_t count = w->o->threads > 0 ? w->o->threads : online > 0 ? (size_t)online : 1;
    if (count > WF_SURVEY_THREADS_MOST)
        count = WF_SURVEY_THREADS_MOST;
    return count < w->survey->count ? count : w->survey->count;
}

/* This thread is one of them; those that cannot be started are done without. */
static enum wf_status run(struct work *w,
                          enum wf_status (*look)(struct work *, size_t, struct wf_error *))
{
    pthread_t threads[WF_SURVEY_THREADS_MOST];
    size_t started = 0, wanted = thread_count(w);
    if (pthread_mutex_init(&w->lock, NULL) != 0)
        return wf_error_add(w->e, WF_MEMORY, "out of memory");
    w->failed_at = SIZE_MAX;
    w->next = 0;
    w->look = look;
    while (started + 1 < wanted && pthread_create(&threads[started], NULL, worker, w) == 0)
        started++;
    worker(w);
    while (started > 0)
        pthread_join(threads[--started], NULL);
    pthread_mutex_destroy(&w->lock);
    if (w->failed_at == SIZE_MAX)
        return WF_OK;
    return w->e != NULL ? w->e->status : WF_INTERNAL;
}

/* ---- The best buy ---------------------------------------------------------------------------- */

static bool make_room(struct work *w, struct wf_singles *s, const struct wf_store *shop)
{
    struct wf_arena *arena = w->survey->arena;
    size_t lists = w->survey->count * WF_KIND_COUNT;
    w->makes = wf_arena_alloc(arena, lists, sizeof *w->makes);
    w->undecided = wf_arena_alloc(arena, w->survey->count, sizeof *w->undecided);
    w->singles = s;
    bool good =
        w->makes != NULL && w->undecided != NULL && wf_singles_join(w->store, shop, arena, s);
    for (size_t i = 0; good && i < lists; i++) {
        size_t lots = wf_singles_count(s, (enum wf_kind)(i % WF_KIND_COUNT));
        w->makes[i] = wf_arena_alloc(arena, lots, sizeof **w->makes);
        good = w->makes[i] != NULL;
    }
    return good;
}

static size_t beers_made(const struct work *w, enum wf_kind kind, size_t lot)
{
    size_t count = 0;
    for (size_t i = 0; i < w->survey->count; i++)
        count += w->makes[i * WF_KIND_COUNT + kind][lot];
    return count;
}

static void name_best(const struct wf_singles *s, enum wf_kind kind, size_t lot,
                      struct wf_best_buy *best)
{
    const struct wf_store *joined = &s->joined[kind];
    const struct wf_malt *m = joined->malts + s->store->malt_count + lot;
    const struct wf_hop *h = joined->hops + s->store->hop_count + lot;
    const struct wf_yeast *y = joined->yeasts + s->store->yeast_count + lot;
    best->kind = kind;
    best->id = kind == WF_KIND_MALT ? m->id : kind == WF_KIND_HOP ? h->id : y->id;
    best->name = kind == WF_KIND_MALT ? m->name : kind == WF_KIND_HOP ? h->name : y->name;
}

/* Of those that make as many, the first in the shop's lists. */
static enum wf_status choose_best(struct work *w)
{
    struct wf_best_buy *best = &w->survey->best_buy;
    size_t at = 0, made = 0;
    for (int kind = 0; kind < WF_KIND_COUNT; kind++)
        for (size_t lot = 0; lot < wf_singles_count(w->singles, (enum wf_kind)kind); lot++)
            if (beers_made(w, (enum wf_kind)kind, lot) > made) {
                made = beers_made(w, (enum wf_kind)kind, lot);
                at = lot;
                name_best(w->singles, (enum wf_kind)kind, lot, best);
            }
    best->beers = wf_arena_alloc(w->survey->arena, made, sizeof *best->beers);
    if (best->beers == NULL)
        return wf_error_add(w->e, WF_MEMORY, "out of memory");
    for (size_t i = 0; i < w->survey->count; i++) {
        best->at_least = best->at_least || w->undecided[i];
        if (made > 0 && w->makes[i * WF_KIND_COUNT + best->kind][at])
            best->beers[best->count++] = w->survey->beers[i].target;
    }
    return WF_OK;
}

static enum wf_status find_best_buy(struct work *w, const struct wf_store *shop)
{
    struct wf_singles s;
    enum wf_status status = make_room(w, &s, shop) ? run(w, look_for_singles)
                                                   : wf_error_add(w->e, WF_MEMORY, "out of memory");
    if (status == WF_OK)
        status = choose_best(w);
    w->singles = NULL;
    return status;
}

/* ---- The whole ------------------------------------------------------------------------------- */

static enum wf_status begin(struct wf_survey *v, const struct wf_target *const *targets,
                            size_t count, const struct wf_store *s, const struct wf_store *shop,
                            struct wf_error *e)
{
    v->beers = wf_arena_alloc(v->arena, count, sizeof *v->beers);
    v->store = wf_arena_string(v->arena, s->name != NULL ? s->name : "");
    v->currency = wf_arena_string(v->arena, s->currency != NULL ? s->currency : "");
    v->note = wf_arena_string(v->arena, s->note);
    v->no_yeasts = s->yeast_count == 0;
    bool good = v->beers != NULL && v->store != NULL && v->currency != NULL &&
                (s->note == NULL || v->note != NULL);
    if (good && shop != NULL) {
        v->shop = wf_arena_string(v->arena, shop->name != NULL ? shop->name : "");
        v->shop_currency = wf_arena_string(v->arena, shop->currency != NULL ? shop->currency : "");
        v->shop_note = wf_arena_string(v->arena, shop->note);
        good = v->shop != NULL && v->shop_currency != NULL &&
               (shop->note == NULL || v->shop_note != NULL);
    }
    if (!good)
        return wf_error_add(e, WF_MEMORY, "out of memory");
    for (size_t i = 0; i < count; i++)
        v->beers[i] =
            (struct wf_surveyed){.target = targets[i], .verdict = WF_VERDICT_OPEN, .off_aims = NAN};
    v->count = v->all = count;
    return WF_OK;
}

static enum wf_status make(struct wf_survey *v, const struct wf_store *s,
                           const struct wf_store *shop, const struct wf_brewhouse *b,
                           const struct wf_survey_options *o, struct wf_error *e)
{
    struct wf_error own = {0};
    struct wf_store joined;
    struct work w = {.survey = v,
                     .store = s,
                     .joined = shop != NULL ? &joined : NULL,
                     .brewhouse = b,
                     .o = o,
                     .search = o->solve,
                     .start = wf_seconds_now(),
                     .e = &own};
    w.search.progress = NULL;
    if (shop != NULL && !wf_buy_join(s, shop, v->arena, &joined, &v->not_for_sale))
        return wf_error_add(e, WF_MEMORY, "out of memory");
    v->batch_l = b->batch_l;
    enum wf_status status = run(&w, look_at);
    if (status == WF_OK && shop != NULL)
        status = find_best_buy(&w, shop);
    if (status != WF_OK)
        return wf_error_add(e, status, "%s", own.text);
    v->seconds = wf_seconds_now() - w.start;
    return WF_OK;
}

enum wf_status wf_survey_make(const struct wf_target *const *targets, size_t count,
                              const struct wf_store *s, const struct wf_store *shop,
                              const struct wf_brewhouse *b, const struct wf_survey_options *o,
                              struct wf_survey **out, struct wf_error *e)
{
    struct wf_arena *arena = wf_arena_new();
    struct wf_survey *v = arena == NULL ? NULL : wf_arena_alloc(arena, 1, sizeof *v);
    *out = NULL;
    if (v == NULL) {
        wf_arena_free(arena);
        return wf_error_add(e, WF_MEMORY, "out of memory");
    }
    v->arena = arena;
    enum wf_status status = begin(v, targets, count, s, shop, e);
    if (status == WF_OK)
        status = make(v, s, shop, b, o, e);
    if (status == WF_OK)
        *out = v;
    else
        wf_survey_free(v);
    return status;
}

void wf_survey_free(struct wf_survey *s)
{
    if (s == NULL)
        return;
    for (size_t i = 0; i < s->all; i++) {
        wf_recipe_free(s->beers[i].recipe);
        wf_free(s->beers[i].basket);
    }
    wf_arena_free(s->arena);
}
