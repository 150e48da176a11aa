/* refit_recipe.c: the recipe with its new hops, and what became of each addition. */
#include "solve/refit_parts.h"

#include "base/alloc.h"
#include "base/try.h"
#include "solve/wishes.h"

#include <math.h>
#include <string.h>

/* ---- A copy without hops --------------------------------------------------------------------- */

static bool keep_names(struct wf_arena *a, const char **id, const char **of, const char **name)
{
    bool had_of = *of != NULL;
    *id = wf_arena_string(a, *id);
    *of = wf_arena_string(a, *of);
    *name = wf_arena_string(a, *name);
    return *id && *name && (*of || !had_of);
}

static bool copy_malts(struct wf_recipe *to, const struct wf_recipe *from)
{
    to->malts = wf_arena_alloc(to->arena, from->malt_count, sizeof *to->malts);
    bool good = to->malts != NULL;
    for (size_t i = 0; good && i < from->malt_count; i++) {
        struct wf_recipe_malt *m = &to->malts[to->malt_count++];
        *m = from->malts[i];
        good = keep_names(to->arena, &m->id, &m->of, &m->name);
    }
    return good;
}

static bool copy_yeast(struct wf_recipe *to, const struct wf_recipe *from)
{
    to->yeast = from->yeast;
    if (to->yeast.id == NULL)
        return true;
    to->yeast.family = wf_arena_string(to->arena, from->yeast.family);
    return keep_names(to->arena, &to->yeast.id, &to->yeast.of, &to->yeast.name) &&
           (to->yeast.family != NULL || from->yeast.family == NULL);
}

static bool copy(const struct wf_refit_work *w, struct wf_recipe *to)
{
    const struct wf_recipe *from = w->from;
    to->kettle = w->kettle;
    to->stand_celsius = w->stand_celsius;
    to->stand_length = w->stand_length;
    to->name = wf_arena_string(to->arena, from->name);
    to->currency = wf_arena_string(to->arena, from->currency != NULL ? from->currency : "");
    to->price_note = wf_arena_string(to->arena, from->price_note);
    return to->name && to->currency && (to->price_note || from->price_note == NULL) &&
           copy_malts(to, from) && copy_yeast(to, from);
}

/* ---- Hops ------------------------------------------------------------------------------------ */

/* An addition in the new recipe, and which line of the story it belongs to. */
struct added {
    struct wf_recipe_hop hop;
    size_t line;
};

static struct wf_recipe_hop hop_of(const struct wf_refit_work *w, const struct wf_refit_pick *pick,
                                   double grams)
{
    const struct wf_refit_hop *h = &w->hops[pick->hop];
    struct wf_recipe_hop out = {.id = h->id,
                                .of = h->of,
                                .name = h->name,
                                .addition = pick->addition,
                                .whole = h->whole,
                                .grams = grams,
                                .days = pick->days,
                                .cost = h->price_per_g * grams};
    memcpy(out.character, h->character, sizeof out.character);
    return out;
}

static void set_line(const struct wf_refit_work *w, struct wf_refit *f, size_t place)
{
    f->lines[place] = (struct wf_refit_line){
        .before = w->line[place], .after = WF_NO_LINE, .fixed = w->fixed[place]};
}

/* What the point puts into a place; false: nothing. */
static bool take_place(const struct wf_refit_work *w, size_t place, struct wf_recipe_hop *out)
{
    if (wf_refit_stays(&w->problem, w->x, place)) {
        *out = hop_of(w, &w->stay[place], w->places[place].before_g);
        return true;
    }
    for (size_t c = 0; c < w->choice_count; c++) {
        double steps = wf_refit_steps(&w->problem, w->x, c);
        if (w->choices[c].place != place || !(steps > 0))
            continue;
        *out = hop_of(w, &w->picks[c], steps * w->choices[c].step_g);
        return true;
    }
    return false;
}

/* Additions that a new schedule has no place for. */
static void add_left_out(const struct wf_refit_work *w, struct wf_refit *f)
{
    for (size_t i = 0; i < w->from->hop_count; i++) {
        bool placed = !(w->from->hops[i].grams > 0);
        for (size_t k = 0; k < w->place_count; k++)
            placed = placed || w->line[k] == i;
        if (!placed)
            f->lines[f->line_count++] = (struct wf_refit_line){.before = i, .after = WF_NO_LINE};
    }
}

static bool goes_before(const struct wf_recipe_hop *x, const struct wf_recipe_hop *y)
{
    if (x->addition.use != y->addition.use)
        return x->addition.use < y->addition.use;
    return x->addition.minutes > y->addition.minutes;
}

/* In the order in which they are added; those at one time stay in theirs. */
static void insert(struct added *list, size_t count, struct added one)
{
    for (; count > 0 && goes_before(&one.hop, &list[count - 1].hop); count--)
        list[count] = list[count - 1];
    list[count] = one;
}

static enum wf_status set_hops(const struct wf_refit_work *w, struct wf_refit *f)
{
    struct wf_recipe *to = f->recipe;
    struct added *list = wf_arena_alloc(f->arena, w->place_count, sizeof *list);
    to->hops = wf_arena_alloc(to->arena, w->place_count, sizeof *to->hops);
    f->lines = wf_arena_alloc(f->arena, w->place_count + w->from->hop_count, sizeof *f->lines);
    if (list == NULL || to->hops == NULL || f->lines == NULL)
        return wf_error_add(w->e, WF_MEMORY, "out of memory");
    for (size_t i = 0; i < w->place_count; i++) {
        struct added one = {.line = i};
        set_line(w, f, i);
        if (take_place(w, i, &one.hop))
            insert(list, to->hop_count++, one);
    }
    f->line_count = w->place_count;
    for (size_t i = 0; i < to->hop_count; i++) {
        to->hops[i] = list[i].hop;
        f->lines[list[i].line].after = i;
        if (!keep_names(to->arena, &to->hops[i].id, &to->hops[i].of, &to->hops[i].name))
            return wf_error_add(w->e, WF_MEMORY, "out of memory");
    }
    add_left_out(w, f);
    return WF_OK;
}

/* ---- What is told ---------------------------------------------------------------------------- */

static bool same_addition(const struct wf_recipe_hop *x, const struct wf_recipe_hop *y)
{
    return strcmp(x->id, y->id) == 0 && x->addition.use == y->addition.use &&
           fabs(x->addition.minutes - y->addition.minutes) < 1e-6 &&
           fabs(x->grams - y->grams) < 1e-9;
}

static size_t count_changed(const struct wf_refit_work *w, const struct wf_refit *f)
{
    size_t changed = 0;
    for (size_t i = 0; i < f->line_count; i++) {
        const struct wf_refit_line *l = &f->lines[i];
        bool before = l->before != WF_NO_LINE, after = l->after != WF_NO_LINE;
        changed += before != after ||
                   (before && after &&
                    !same_addition(&w->from->hops[l->before], &f->recipe->hops[l->after]));
    }
    return changed;
}

/* With the alpha acid of now, on the old schedule. */
static enum wf_status untouched(const struct wf_refit_work *w, double *ibu)
{
    const struct wf_recipe *r = w->from;
    *ibu = 0;
    for (size_t i = 0; i < r->hop_count; i++) {
        struct wf_addition a = r->hops[i].addition;
        double each;
        for (size_t k = 0; k < w->hop_count; k++) {
            if (strcmp(w->hops[k].id, r->hops[i].id) != 0)
                continue;
            a.alpha = w->hops[k].alpha;
            a.form = w->hops[k].whole ? WF_WHOLE_HOPS : 1;
        }
        enum wf_status status = wf_ibu_per_gram(&a, &r->kettle, r->predicted.boil_gravity, &each);
        if (status != WF_OK)
            return wf_error_add(w->e, status, "hops at %s are outside the laws' range",
                                wf_refit_at(w->arena, &a, r->hops[i].days));
        *ibu += each * r->hops[i].grams;
    }
    return WF_OK;
}

static enum wf_status set_wish(const struct wf_refit_work *w, struct wf_recipe *to)
{
    const struct wf_refit_problem *p = &w->problem;
    bool ratio = wf_range_is_any(w->o->bitterness) && !wf_range_is_any(w->o->ratio);
    double in = ratio ? wf_points(w->from->predicted.og) : 1;
    struct wf_wish_result *wish = wf_arena_alloc(to->arena, 1, sizeof *wish);
    if (wish == NULL)
        return wf_error_add(w->e, WF_MEMORY, "out of memory");
    *wish = (struct wf_wish_result){.wish = ratio ? "bitterness ratio" : "bitterness",
                                    .dimension = ratio ? WF_DIM_NUMBER : WF_DIM_BITTERNESS,
                                    .wanted = {p->ibu_low / in, p->ibu_high / in, p->ibu_aim / in},
                                    .got = ratio ? to->predicted.ratio : to->predicted.ibu,
                                    .met = true,
                                    .kind = ratio ? WF_WISH_RATIO : WF_WISH_BITTERNESS};
    to->wishes = wish;
    to->wish_count = 1;
    double slack = wf_wish_slack(wish->dimension, wish->got);
    if (wish->got < wish->wanted.low - slack || wish->got > wish->wanted.high + slack)
        return wf_error_add(w->e, WF_INTERNAL,
                            "internal error: the schedule found gives %.9g of %s, not %.9g..%.9g",
                            wish->got, wish->wish, wish->wanted.low, wish->wanted.high);
    return WF_OK;
}

static enum wf_status set_proofs(const struct wf_refit_work *w, struct wf_recipe *to)
{
    double room = fmax(1, w->change), gap = fmax(0, w->change - w->change_bound) / room;
    struct wf_proof *p = wf_arena_alloc(to->arena, 2, sizeof *p);
    if (p == NULL)
        return wf_error_add(w->e, WF_MEMORY, "out of memory");
    p[0] = (struct wf_proof){"fewest changes", w->changed, w->changed_bound,
                             (w->changed - w->changed_bound) / fmax(1, w->changed)};
    p[1] = (struct wf_proof){"least change", w->change, w->change_bound, gap <= 1e-6 ? 0 : gap};
    to->proofs = p;
    to->proof_count = 2;
    to->status = p[0].gap <= 0 && p[1].gap <= 1e-4 ? WF_RECIPE_OPTIMAL : WF_RECIPE_GOOD;
    return WF_OK;
}

static enum wf_status make(struct wf_refit_work *w, struct wf_refit *f)
{
    struct wf_recipe *to = f->recipe;
    if (!copy(w, to))
        return wf_error_add(w->e, WF_MEMORY, "out of memory");
    WF_TRY(set_hops(w, f));
    WF_TRY(wf_recipe_predict(to, w->e));
    if (w->o->store != NULL)
        WF_TRY(wf_recipe_price(to, w->o->store, w->e));
    WF_TRY(set_wish(w, to));
    WF_TRY(set_proofs(w, to));
    f->changed = count_changed(w, f);
    return untouched(w, &f->untouched_ibu);
}

enum wf_status wf_refit_recipe(struct wf_refit_work *w, struct wf_refit *f)
{
    struct wf_arena *arena = wf_arena_new();
    struct wf_recipe *to = arena == NULL ? NULL : wf_arena_alloc(arena, 1, sizeof *to);
    if (to == NULL) {
        wf_arena_free(arena);
        return wf_error_add(w->e, WF_MEMORY, "out of memory");
    }
    to->arena = arena;
    f->recipe = to; /* freed with the refit from now on */
    return make(w, f);
}
