/* learn.c: from a log to what a brewhouse is like. */
#include "wortfit/learn.h"

#include "base/alloc.h"
#include "base/robust.h"
#include "base/try.h"

#include <math.h>
#include <string.h>

/* The variance of the Hodges-Lehmann estimate is 1/0.955 of the mean's on normal errors. */
#define EFFICIENCY_OF_ESTIMATE 0.955

/* A brew as it is learnt from. */
struct told {
    const struct wf_brew *brew;
    struct wf_brew_figures figures;
    double bitterness, colour;  /* measured to what the laws give; NaN: not measured */
    double bitterness_of_alpha; /* the variance that the spread of alpha makes of it */
};

struct work {
    const struct wf_brewhouse *b;
    struct wf_spread usual; /* not the brewhouse's, which may come from these very brews */
    struct wf_learning *l;
    struct told *told;
    size_t count;
    const char *place; /* where a brew that counts was brewed */
    double *x, *y, *z; /* room for as many figures */
    long *on;          /* of those in x: the brewing days */
    bool no_memory;
};

/* ---- Spreads and values ---------------------------------------------------------------------- */

/* A spread is a factor 1 + s; these are its logarithm and back (sure.h). */
static double log_of_spread(double spread)
{
    return log(1 + spread);
}

/* The seen standard deviation of logarithms with the usual one before it. */
static double spread_of(double seen, size_t brews, double usual)
{
    double before = WF_LEARN_PRIOR_BREWS, now = brews > 1 ? (double)brews - 1 : 0;
    double variance =
        (before * log_of_spread(usual) * log_of_spread(usual) + now * seen * seen) / (before + now);
    return exp(sqrt(variance)) - 1;
}

/* What lies too far off is taken for a slip. Of two that differ nobody knows which one it is. */
#define MOST_SPREADS 3.0

static void note_aside(struct wf_learned *out, long on)
{
    if (out->aside < WF_LEARN_ASIDE_MOST)
        out->aside_on[out->aside] = on;
    out->aside++;
}

/* Keeps those of x[0..n) whose logarithms lie within three spreads of their median; returns how
 * many. The spread goes to *seen. */
static size_t set_aside(struct work *w, double *x, size_t n, double usual, double *seen,
                        struct wf_learned *out)
{
    size_t kept = 0;
    for (size_t i = 0; i < n; i++)
        w->y[i] = log(x[i]);
    w->no_memory |= !wf_qn(w->y, n, seen);
    double middle = wf_median(w->y, n);
    double most = MOST_SPREADS * log_of_spread(spread_of(*seen, n, usual));
    for (size_t i = 0; i < n; i++)
        if (n < 3 || fabs(log(x[i]) - middle) <= most)
            x[kept++] = x[i];
        else
            note_aside(out, w->on[i]);
    return kept;
}

/* The value of x[0..n), which changes, and the Qn of their logarithms in *seen. */
static struct wf_learned learn_value(struct work *w, double *x, size_t n, bool by_logarithm,
                                     double usual, double *seen)
{
    struct wf_learned out = {
        .value = (double)NAN, .spread = (double)NAN, .error = (double)NAN, .now = (double)NAN};
    *seen = 0;
    if (n == 0)
        return out;
    out.brews = set_aside(w, x, n, usual, seen, &out);
    out.enough = out.brews >= WF_LEARN_LEAST;
    for (size_t i = 0; by_logarithm && i < out.brews; i++)
        x[i] = log(x[i]);
    w->no_memory |= !wf_hodges_lehmann(x, out.brews, &out.value);
    if (by_logarithm)
        out.value = exp(out.value);
    return out;
}

/* What is known of the value: its spread over the root of the number of brews. */
static void finish(struct wf_learned *v, double seen, double usual)
{
    if (v->brews == 0)
        return;
    v->spread = spread_of(seen, v->brews, usual);
    v->error = v->value * v->spread / sqrt(EFFICIENCY_OF_ESTIMATE * (double)v->brews);
}

/* ---- Efficiency ------------------------------------------------------------------------------ */

/* Whether the gravities lie far enough apart. */
static bool spans(const double *gravity, size_t n)
{
    double low = HUGE_VAL, high = -HUGE_VAL;
    for (size_t i = 0; i < n; i++) {
        low = fmin(low, gravity[i]);
        high = fmax(high, gravity[i]);
    }
    return n >= WF_LEARN_LEAST_FALL && high - low >= WF_LEARN_SPAN - 1e-9;
}

/*
 * Efficiency against gravity itself would hide a fall: a brew that by chance went well has more of
 * both. So both are held against the strength of the grist as it was planned, which knows nothing
 * of the day, and the fall is the ratio of the two slopes (A. Wald, Annals of Mathematical
 * Statistics 11, 1940). Gravities in x, efficiencies in y, strengths in z.
 */
static void learn_fall(struct work *w, size_t n)
{
    struct wf_learned *fall = &w->l->fall;
    struct wf_slope efficiency, gravity;
    *fall = (struct wf_learned){
        .brews = n, .spread = (double)NAN, .error = (double)NAN, .now = (double)NAN};
    if (w->b->efficiency_fall > 0)
        fall->now = w->b->efficiency_fall;
    if (!spans(w->x, n))
        return;
    w->no_memory |= !wf_theil_sen(w->z, w->y, n, &efficiency);
    w->no_memory |= !wf_theil_sen(w->z, w->x, n, &gravity);
    fall->enough = !w->no_memory && gravity.low > 0;
    if (!fall->enough || !(efficiency.high < 0))
        return;
    fall->value = -efficiency.slope / gravity.slope * 0.010;
    w->l->fall_low = -efficiency.high / gravity.slope * 0.010;
    w->l->fall_high = -efficiency.low / gravity.slope * 0.010;
}

/* Extract that the grist was to give a litre, by an efficiency like any other: kg/L; 0: none of it
 * was mashed. */
static double strength_of(const struct wf_recipe *r)
{
    static const double efficiency = 0.75;
    double mashed = 0, rest = 0;
    for (size_t i = 0; i < r->malt_count; i++)
        *(r->malts[i].grain.mashed ? &mashed : &rest) += r->malts[i].kg * r->malts[i].grain.yield;
    return mashed > 0 ? (efficiency * mashed + rest) / r->kettle.batch_l : 0;
}

static size_t list_efficiencies(struct work *w)
{
    size_t n = 0;
    for (size_t i = 0; i < w->count; i++) {
        double strength = strength_of(w->told[i].brew->recipe);
        if (!(strength > 0))
            continue;
        w->x[n] = w->told[i].brew->measured.og;
        w->z[n] = strength;
        w->on[n] = w->told[i].brew->on;
        w->y[n++] = w->told[i].figures.efficiency;
    }
    return n;
}

static void learn_efficiency(struct work *w)
{
    struct wf_learning *l = w->l;
    size_t n = list_efficiencies(w);
    double seen;
    learn_fall(w, n);
    l->gravity = (double)NAN;
    if (n > 0) {
        memcpy(w->z, w->x, n * sizeof *w->z); /* the median sorts */
        l->gravity = round(1000 * wf_median(w->z, n)) / 1000;
    }
    for (size_t i = 0; i < n; i++)
        w->x[i] = w->y[i] + l->fall.value * (w->x[i] - l->gravity) / 0.010;
    l->efficiency = learn_value(w, w->x, n, false, w->usual.efficiency, &seen);
    l->efficiency.now = wf_brewhouse_efficiency(w->b, l->gravity);
    finish(&l->efficiency, seen, w->usual.efficiency);
    l->spread.efficiency = l->efficiency.spread;
}

/* ---- The other figures ----------------------------------------------------------------------- */

static double evaporation_at(const struct told *t)
{
    return t->figures.evaporation_l_h > 0 ? t->figures.evaporation_l_h : (double)NAN;
}

static double bitterness_at(const struct told *t)
{
    return t->bitterness;
}

static double colour_at(const struct told *t)
{
    return t->colour;
}

/* A figure of all brews that tell it. `usual`: its spread; NaN: none comes before. */
static struct wf_learned learn_ratio(struct work *w, double (*at)(const struct told *), double now,
                                     double usual, double *seen)
{
    size_t n = 0;
    for (size_t i = 0; i < w->count; i++)
        if (!isnan(at(&w->told[i]))) {
            w->on[n] = w->told[i].brew->on;
            w->x[n++] = at(&w->told[i]);
        }
    struct wf_learned v = learn_value(w, w->x, n, true, usual, seen);
    v.now = now;
    finish(&v, *seen, usual);
    return v;
}

/* The usual spread of evaporation: it hangs on the weather, too. Our assumption. */
#define EVAPORATION_SPREAD 0.10

/* What of the spread of bitterness is the alpha acid's own, which is reckoned apart (sure.h). */
static double without_alpha(struct work *w, double seen)
{
    size_t n = 0;
    for (size_t i = 0; i < w->count; i++)
        if (!isnan(w->told[i].bitterness))
            w->x[n++] = w->told[i].bitterness_of_alpha;
    double alpha = n > 0 ? wf_median(w->x, n) : 0;
    return sqrt(fmax(0, seen * seen - alpha));
}

static void learn_ratios(struct work *w)
{
    struct wf_learning *l = w->l;
    const struct wf_spread *usual = &w->usual;
    double seen;
    l->evaporation =
        learn_ratio(w, evaporation_at, w->b->evaporation_l_h, EVAPORATION_SPREAD, &seen);
    l->colour = learn_ratio(w, colour_at, w->b->colour_factor, usual->colour, &seen);
    l->spread.colour = l->colour.spread;
    l->bitterness =
        learn_ratio(w, bitterness_at, w->b->bitterness_factor, usual->utilisation, &seen);
    if (l->bitterness.brews > 0)
        l->bitterness.spread =
            spread_of(without_alpha(w, seen), l->bitterness.brews, usual->utilisation);
    l->spread.utilisation = l->bitterness.spread;
}

/* ---- Yeasts ---------------------------------------------------------------------------------- */

/* The catalogue's entry, or else the lot: lots come and go. NULL: it tells no attenuation. */
static const char *yeast_of(const struct told *t)
{
    const struct wf_recipe *r = t->brew->recipe;
    if (isnan(t->figures.attenuation))
        return NULL;
    return r->yeast.of ? r->yeast.of : r->yeast.id;
}

/* Adds the yeast's name to the list, in order of ids, unless it is there. */
static void add_yeast(struct wf_learning *l, const char *id)
{
    size_t at = 0;
    while (at < l->yeast_count && strcmp(l->yeasts[at].id, id) < 0)
        at++;
    if (at < l->yeast_count && strcmp(l->yeasts[at].id, id) == 0)
        return;
    memmove(&l->yeasts[at + 1], &l->yeasts[at], (l->yeast_count - at) * sizeof *l->yeasts);
    l->yeasts[at] = (struct wf_learned_yeast){.id = id};
    l->yeast_count++;
}

/* Attenuations of one yeast, in x; the variance seen is added up. */
static void learn_yeast(struct work *w, struct wf_learned_yeast *y, double *squares,
                        double *freedom)
{
    size_t n = 0;
    double seen, usual = (double)NAN;
    for (size_t i = 0; i < w->count; i++)
        if (yeast_of(&w->told[i]) && strcmp(yeast_of(&w->told[i]), y->id) == 0) {
            w->on[n] = w->told[i].brew->on;
            w->x[n++] = w->told[i].figures.attenuation;
            usual = w->told[i].brew->recipe->yeast.attenuation;
        }
    y->attenuation = learn_value(w, w->x, n, false, w->usual.attenuation, &seen);
    y->attenuation.now = wf_brewhouse_attenuation(w->b, y->id, NULL, usual);
    *squares += seen * seen * (double)(n - 1);
    *freedom += (double)(n - 1);
}

/* Each yeast has a value of its own; how far they vary is asked of all together. */
static void learn_yeasts(struct work *w)
{
    struct wf_learning *l = w->l;
    double squares = 0, freedom = 0;
    l->yeasts = wf_arena_alloc(l->arena, w->count + 1, sizeof *l->yeasts);
    if (!l->yeasts) {
        w->no_memory = true;
        return;
    }
    for (size_t i = 0; i < w->count; i++)
        if (yeast_of(&w->told[i]))
            add_yeast(l, yeast_of(&w->told[i]));
    for (size_t i = 0; i < l->yeast_count; i++)
        learn_yeast(w, &l->yeasts[i], &squares, &freedom);
    double seen = freedom > 0 ? sqrt(squares / freedom) : 0;
    for (size_t i = 0; i < l->yeast_count; i++) {
        struct wf_learned *a = &l->yeasts[i].attenuation;
        l->yeasts[i].id = wf_arena_string(l->arena, l->yeasts[i].id); /* it outlives the log */
        w->no_memory |= !l->yeasts[i].id;
        a->spread = spread_of(seen, (size_t)freedom + 1, w->usual.attenuation);
        a->error = a->value * a->spread / sqrt(EFFICIENCY_OF_ESTIMATE * (double)a->brews);
        l->spread.attenuation = a->spread;
    }
}

/* ---- The log --------------------------------------------------------------------------------- */

/* The variance of ln(bitterness) that the spread of each lot's alpha acid makes. */
static double variance_of_alpha(const struct wf_recipe *r, const struct wf_brewhouse *b)
{
    double sum = 0, total = r->predicted.ibu, s = log_of_spread(b->spread.alpha);
    for (size_t i = 0; i < r->hop_count && total > 0; i++) {
        double lot = 0;
        bool first = true;
        for (size_t k = 0; k < r->hop_count; k++) {
            bool same = strcmp(r->hops[k].id, r->hops[i].id) == 0;
            first &= !same || k >= i;
            lot += same ? r->hops[k].ibu : 0;
        }
        sum += first ? (lot / total) * (lot / total) * s * s : 0;
    }
    return sum;
}

/* Measured to what the law gives; NaN where nothing can be said. */
static double ratio_of(double measured, double reckoned)
{
    double ratio = measured / reckoned;
    return measured > 0 && reckoned > 0 && isfinite(ratio) ? ratio : (double)NAN;
}

/* The brew by the brewhouse's law of bitterness, and by what the laws give alone, whatever it was
 * planned by. */
static enum wf_status reckon(const struct work *w, const struct wf_brew *b,
                             struct wf_brew_figures *out, struct wf_error *why)
{
    struct wf_recipe r = *b->recipe;
    r.kettle.law = w->b->law;
    r.kettle.bitterness_factor = r.kettle.colour_factor = 0;
    return wf_brew_reckon(&r, &b->measured, out, why);
}

/* Whether the log says that it was brewed in another brewhouse. */
static bool is_elsewhere(const struct work *w, const struct wf_brew *b)
{
    return b->brewhouse && *w->b->name && strcmp(b->brewhouse, w->b->name) != 0;
}

/* Two names among what counts. */
static void look_at_place(struct work *w, const struct wf_brew *b)
{
    if (!b->brewhouse)
        return;
    w->l->mixed |= w->place && strcmp(w->place, b->brewhouse) != 0;
    w->place = b->brewhouse;
}

static enum wf_status tell(struct work *w, const struct wf_brew *b)
{
    struct wf_learning *l = w->l;
    struct wf_error why = {0};
    if (is_elsewhere(w, b)) {
        if (l->elsewhere++ == 0)
            l->other_name = wf_arena_string(l->arena, b->brewhouse);
        return l->other_name ? WF_OK : WF_MEMORY;
    }
    struct told t = {.brew = b};
    enum wf_status status = reckon(w, b, &t.figures, &why);
    if (status == WF_MEMORY)
        return status;
    if (status != WF_OK) {
        if (l->left_out++ == 0)
            l->why = wf_arena_print(l->arena, "line %zu: %s", b->line, why.text);
        return WF_OK;
    }
    look_at_place(w, b);
    t.bitterness = ratio_of(b->measured.ibu, t.figures.beer.ibu);
    t.colour = ratio_of(b->measured.srm, t.figures.beer.srm);
    t.bitterness_of_alpha = variance_of_alpha(b->recipe, w->b);
    l->first = w->count == 0 || b->on < l->first ? b->on : l->first;
    l->last = w->count == 0 || b->on > l->last ? b->on : l->last;
    w->told[w->count++] = t;
    return WF_OK;
}

static enum wf_status learn(struct work *w, const struct wf_log *log)
{
    size_t from = log->count > WF_LEARN_BREWS_MOST ? log->count - WF_LEARN_BREWS_MOST : 0;
    size_t room = log->count - from;
    w->told = wf_alloc(room, sizeof *w->told);
    w->x = wf_alloc(room, sizeof *w->x);
    w->y = wf_alloc(room, sizeof *w->y);
    w->z = wf_alloc(room, sizeof *w->z);
    w->on = wf_alloc(room, sizeof *w->on);
    if (!w->told || !w->x || !w->y || !w->z || !w->on)
        return WF_MEMORY;
    for (size_t i = from; i < log->count; i++)
        WF_TRY(tell(w, &log->brews[i]));
    w->l->brews = w->count;
    learn_efficiency(w);
    learn_ratios(w);
    learn_yeasts(w);
    return w->no_memory || (w->l->left_out > 0 && !w->l->why) ? WF_MEMORY : WF_OK;
}

enum wf_status wf_learn(const struct wf_log *l, const struct wf_brewhouse *b,
                        struct wf_learning **out, struct wf_error *e)
{
    static const double none = (double)NAN;
    struct wf_arena *arena = wf_arena_new();
    struct wf_brewhouse usual;
    wf_brewhouse_default(WF_UNITS_METRIC, &usual);
    struct work w = {.b = b, .usual = usual.spread};
    enum wf_status status = WF_MEMORY;
    *out = NULL;
    w.l = arena ? wf_arena_alloc(arena, 1, sizeof *w.l) : NULL;
    if (w.l) {
        w.l->arena = arena;
        w.l->spread = (struct wf_spread){none, none, none, none, none, none};
        status = learn(&w, l);
    }
    wf_free(w.told);
    wf_free(w.x);
    wf_free(w.y);
    wf_free(w.z);
    wf_free(w.on);
    if (status == WF_OK) {
        *out = w.l;
        return WF_OK;
    }
    wf_arena_free(arena);
    return wf_error_add(e, status, "out of memory");
}

bool wf_learning_has_enough(const struct wf_learning *l)
{
    bool enough =
        l->efficiency.enough || l->evaporation.enough || l->bitterness.enough || l->colour.enough;
    for (size_t i = 0; i < l->yeast_count; i++)
        enough |= l->yeasts[i].attenuation.enough;
    return enough;
}

void wf_learning_free(struct wf_learning *l)
{
    if (l)
        wf_arena_free(l->arena);
}
