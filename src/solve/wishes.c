#include "solve/wishes.h"

#include "base/alloc.h"
#include "model/problem.h"

#include <math.h>
#include <string.h>

/* Where a wish stands in the target. */
struct at {
    enum wf_wish_kind kind;
    size_t index, part;
};

struct list {
    struct wf_recipe *r;
    const struct wf_target *t;
    struct wf_wish_result *rows;
    size_t count, room;
    bool failed;
};

double wf_wish_slack(enum wf_dimension d, double got)
{
    return d == WF_DIM_GRAVITY ? 2e-6 : 2e-6 * fmax(1, fabs(got));
}

static void add(struct list *l, struct at at, const char *wish, enum wf_dimension d,
                struct wf_range wanted, double got)
{
    if (wf_range_is_any(wanted) || l->failed)
        return;
    if (wish == NULL || l->count == l->room) {
        l->failed = true;
        return;
    }
    double below = wanted.low - got, above = got - wanted.high;
    double missed = isnan(got) ? (double)NAN : fmax(0, fmax(below, above));
    bool met = missed <= wf_wish_slack(d, got);
    l->rows[l->count++] = (struct wf_wish_result){.wish = wish,
                                                  .dimension = d,
                                                  .wanted = wanted,
                                                  .got = got,
                                                  .met = met,
                                                  .missed_by = met ? 0 : missed,
                                                  .kind = at.kind,
                                                  .index = at.index,
                                                  .part = at.part};
}

/* ---- Sums over the recipe -------------------------------------------------------------------- */

static struct wf_malt as_lot(const struct wf_recipe_malt *m)
{
    return (struct wf_malt){.id = m->id, .of = m->of, .class = m->class};
}

static double share_of(const struct wf_recipe *r, const struct wf_malt_set *who, double *count)
{
    double share = 0;
    *count = 0;
    for (size_t i = 0; i < r->malt_count; i++) {
        struct wf_malt lot = as_lot(&r->malts[i]);
        if (!wf_malt_set_has(who, &lot))
            continue;
        share += r->malts[i].share;
        *count += 1;
    }
    return share;
}

bool wf_slot_has(const struct wf_slot *s, const struct wf_addition *a, const struct wf_kettle *k)
{
    if (s->use != a->use)
        return false;
    if (s->use == WF_HOP_STAND && fabs(s->celsius - a->celsius) > 1e-6)
        return false;
    bool timed = s->use == WF_HOP_BOIL || s->use == WF_HOP_STAND;
    double minutes = s->use == WF_HOP_BOIL ? fmin(s->minutes, k->boil_minutes) : s->minutes;
    return !timed || fabs(minutes - fmin(a->minutes, fmax(k->boil_minutes, minutes))) < 1e-6;
}

static double dose_of(const struct wf_recipe *r, const struct wf_slot *s)
{
    double grams = 0;
    for (size_t i = 0; i < r->hop_count; i++)
        if (wf_slot_has(s, &r->hops[i].addition, &r->kettle))
            grams += r->hops[i].grams;
    return grams / r->kettle.batch_l;
}

static double slot_score(const struct wf_recipe *r, const struct wf_slot *s, enum wf_word w)
{
    double grams = 0, score = 0;
    for (size_t i = 0; i < r->hop_count; i++) {
        if (!wf_slot_has(s, &r->hops[i].addition, &r->kettle))
            continue;
        grams += r->hops[i].grams;
        score += r->hops[i].grams * r->hops[i].character[w - WF_MALT_WORD_COUNT];
    }
    return grams > 0 ? score / grams : (double)NAN;
}

static bool has_id(const struct wf_recipe *r, const char *id)
{
    const char *one[] = {id, NULL};
    for (size_t i = 0; i < r->malt_count; i++)
        if (wf_id_listed(one, r->malts[i].id, r->malts[i].of))
            return true;
    for (size_t i = 0; i < r->hop_count; i++)
        if (wf_id_listed(one, r->hops[i].id, r->hops[i].of))
            return true;
    return r->yeast.id != NULL && wf_id_listed(one, r->yeast.id, r->yeast.of);
}

/* ---- The wishes ------------------------------------------------------------------------------ */

static void add_figure(struct list *l, enum wf_wish_kind kind, const char *wish,
                       enum wf_dimension d, struct wf_range wanted, double got)
{
    add(l, (struct at){.kind = kind}, wish, d, wanted, got);
}

static void add_figures(struct list *l, bool need_yeast)
{
    const struct wf_target *t = l->t;
    const struct wf_beer *b = &l->r->predicted;
    add_figure(l, WF_WISH_OG, "original gravity", WF_DIM_GRAVITY, t->og, b->og);
    add_figure(l, WF_WISH_COLOUR, "colour", WF_DIM_BEER_COLOUR, t->colour, b->srm);
    add_figure(l, WF_WISH_RATIO, "bitterness ratio", WF_DIM_NUMBER, t->ratio, b->ratio);
    add_figure(l, WF_WISH_BITTERNESS, "bitterness", WF_DIM_BITTERNESS, t->bitterness, b->ibu);
    if (need_yeast) {
        add_figure(l, WF_WISH_FG, "final gravity", WF_DIM_GRAVITY, t->fg, b->fg);
        add_figure(l, WF_WISH_ABV, "alcohol", WF_DIM_SHARE, t->abv, b->abv);
    }
    if (t->diastatic > 0)
        add_figure(l, WF_WISH_DIASTATIC, "diastatic power", WF_DIM_DIASTATIC,
                   (struct wf_range){t->diastatic, INFINITY, NAN}, b->lintner);
}

static void add_rules(struct list *l)
{
    for (size_t i = 0; i < l->t->rule_count; i++) {
        const struct wf_rule *rule = &l->t->rules[i];
        double count, share = share_of(l->r, &rule->who, &count);
        add(l, (struct at){WF_WISH_SHARE, i, 0},
            wf_arena_print(l->r->arena, "share of %s", rule->words), WF_DIM_SHARE, rule->share,
            share);
        struct wf_range wanted = {rule->least >= 0 ? rule->least : -(double)INFINITY,
                                  rule->most >= 0 ? rule->most : (double)INFINITY, NAN};
        add(l, (struct at){WF_WISH_COUNT, i, 0},
            wf_arena_print(l->r->arena, "number of %s", rule->words), WF_DIM_NUMBER, wanted, count);
    }
}

static void add_character(struct list *l)
{
    for (size_t i = 0; i < l->t->wish_count; i++) {
        const struct wf_word_wish *w = &l->t->wishes[i];
        add(l, (struct at){WF_WISH_WORD, i, 0},
            wf_arena_print(l->r->arena, "%s character", wf_word_name(w->word)), WF_DIM_NUMBER,
            w->index, l->r->character[w->word]);
    }
}

/* A dose of one value was met to the nearest step of the scale, so it is judged to that. */
static void add_slots(struct list *l, double hop_step_g)
{
    for (size_t i = 0; i < l->t->slot_count; i++) {
        const struct wf_slot *s = &l->t->slots[i];
        double got = dose_of(l->r, s), step = hop_step_g / l->r->kettle.batch_l;
        struct wf_range wanted = s->dose;
        if (s->dosed && wanted.high - wanted.low < step) {
            wanted.low = fmax(0, wanted.low - step / 2);
            wanted.high += step / 2;
        }
        if (s->dosed)
            add(l, (struct at){WF_WISH_DOSE, i, 0},
                wf_arena_print(l->r->arena, "hops at %s", s->at), WF_DIM_DOSE, wanted, got);
        for (size_t k = 0; got > 0 && k < s->wish_count; k++)
            add(l, (struct at){WF_WISH_HOP_WORD, i, k},
                wf_arena_print(l->r->arena, "%s hops at %s", wf_word_name(s->wishes[k].word),
                               s->at),
                WF_DIM_NUMBER, s->wishes[k].index, slot_score(l->r, s, s->wishes[k].word));
    }
}

/* Whether the target would have it: one named in `use`, else one of its list, by id or family. */
static bool yeast_suits(const struct wf_recipe *r, const struct wf_target *t)
{
    const char *id = r->yeast.id, *of = r->yeast.of, *family = r->yeast.family;
    if (wf_id_listed(t->avoid, id, of))
        return false;
    return !t->yeasts || !t->yeasts[0] || wf_id_listed(t->use, id, of) ||
           wf_id_listed(t->yeasts, id, of) || (family && wf_id_listed(t->yeasts, family, NULL));
}

static void add_presence(struct list *l, bool need_yeast)
{
    const struct wf_range one = {1, INFINITY, NAN};
    for (size_t i = 0; l->t->use != NULL && l->t->use[i] != NULL; i++)
        add(l, (struct at){WF_WISH_USE, i, 0},
            wf_arena_print(l->r->arena, "%s in it", l->t->use[i]), WF_DIM_NUMBER, one,
            has_id(l->r, l->t->use[i]) ? 1 : 0);
    if (need_yeast)
        add_figure(l, WF_WISH_YEAST, "a yeast that suits", WF_DIM_NUMBER, one,
                   l->r->yeast.id != NULL && yeast_suits(l->r, l->t) ? 1 : 0);
}

/* Malts that do not belong in it: none but in the nearest recipe, and in a brewer's own. */
static void add_strangers(struct list *l)
{
    const struct wf_range none = {-(double)INFINITY, 0, NAN};
    for (size_t i = 0; i < l->r->malt_count; i++) {
        const struct wf_recipe_malt *m = &l->r->malts[i];
        struct wf_malt lot = as_lot(m);
        if (m->share > 0 && !wf_malt_set_has(&l->t->only, &lot))
            add_figure(l, WF_WISH_OTHER,
                       wf_arena_print(l->r->arena, "does not belong: %s", m->name), WF_DIM_SHARE,
                       none, m->share);
    }
}

enum wf_status wf_wishes_fill(struct wf_recipe *r, const struct wf_target *t, double hop_step_g,
                              bool need_yeast, struct wf_error *e)
{
    size_t room = 8 + 2 * t->rule_count + t->wish_count + t->slot_count + r->malt_count;
    for (size_t i = 0; i < t->slot_count; i++)
        room += t->slots[i].wish_count;
    for (const char *const *id = t->use; id != NULL && *id != NULL; id++)
        room++;
    struct list l = {.r = r, .t = t, .room = room};
    l.rows = wf_arena_alloc(r->arena, room, sizeof *l.rows);
    l.failed = l.rows == NULL;
    add_figures(&l, need_yeast);
    add_rules(&l);
    add_character(&l);
    add_slots(&l, hop_step_g);
    add_presence(&l, need_yeast);
    add_strangers(&l);
    if (l.failed)
        return wf_error_add(e, WF_MEMORY, "out of memory");
    r->wishes = l.rows;
    r->wish_count = l.count;
    return WF_OK;
}

const struct wf_wish_result *wf_wishes_missed(const struct wf_recipe *r)
{
    for (size_t i = 0; i < r->wish_count; i++)
        if (!r->wishes[i].met)
            return &r->wishes[i];
    return NULL;
}
