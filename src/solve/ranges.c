/* ranges.c: many brews of one recipe, each with errors of its own; see sure.h. */
#include "wortfit/sure.h"

#include "base/alloc.h"
#include "base/try.h"
#include "solve/beer_figure.h"
#include "solve/draws.h"
#include "solve/wishes.h"

#include <math.h>
#include <string.h>

/* Errors that all of a brew shares. */
enum common { EFFICIENCY, COLOUR, UTILISATION, ATTENUATION, COMMON_COUNT };

struct brews {
    const struct wf_recipe *r;
    double *z;               /* strata of the normal law */
    double *common;          /* [common * WF_DRAWS + brew], factors */
    double *extract, *alpha; /* [line * WF_DRAWS + brew] */
    double *figure;          /* [figure * WF_DRAWS + brew]; NaN: not reckoned */
    struct wf_grain *grains; /* of the brew in hand */
    struct wf_addition *additions;
    double *kg, *grams;
};

static void brews_free(struct brews *b)
{
    wf_free(b->z);
    wf_free(b->common);
    wf_free(b->extract);
    wf_free(b->alpha);
    wf_free(b->figure);
    wf_free(b->grains);
    wf_free(b->additions);
    wf_free(b->kg);
    wf_free(b->grams);
}

static bool brews_room(struct brews *b, const struct wf_recipe *r)
{
    *b = (struct brews){
        .r = r,
        .z = wf_alloc(WF_DRAWS, sizeof(double)),
        .common = wf_alloc((size_t)COMMON_COUNT * WF_DRAWS, sizeof(double)),
        .extract = wf_alloc(r->malt_count * WF_DRAWS, sizeof(double)),
        .alpha = wf_alloc(r->hop_count * WF_DRAWS, sizeof(double)),
        .figure = wf_alloc((size_t)WF_BEER_FIGURES * WF_DRAWS, sizeof(double)),
        .grains = wf_alloc(r->malt_count, sizeof(struct wf_grain)),
        .additions = wf_alloc(r->hop_count, sizeof(struct wf_addition)),
        .kg = wf_alloc(r->malt_count, sizeof(double)),
        .grams = wf_alloc(r->hop_count, sizeof(double)),
    };
    return b->z && b->common && b->extract && b->alpha && b->figure && b->grains && b->additions &&
           b->kg && b->grams;
}

/* ---- Errors ---------------------------------------------------------------------------------- */

static void draw_common(struct brews *b, const struct wf_spread *s)
{
    const struct {
        const char *kind;
        double spread;
    } sources[COMMON_COUNT] = {
        [EFFICIENCY] = {"efficiency", s->efficiency},
        [COLOUR] = {"colour", s->colour},
        [UTILISATION] = {"utilisation", s->utilisation},
        [ATTENUATION] = {"attenuation", s->attenuation},
    };
    for (size_t i = 0; i < COMMON_COUNT; i++)
        wf_draws_factors(wf_draws_source(sources[i].kind, NULL), sources[i].spread, b->z, WF_DRAWS,
                         b->common + i * WF_DRAWS);
}

static void draw(struct brews *b, const struct wf_spread *s)
{
    const struct wf_recipe *r = b->r;
    wf_draws_normal(WF_DRAWS, b->z);
    draw_common(b, s);
    for (size_t i = 0; i < r->malt_count; i++) {
        b->grains[i] = r->malts[i].grain;
        b->kg[i] = r->malts[i].kg;
        wf_draws_factors(wf_draws_source("extract", r->malts[i].id),
                         r->malts[i].grain.sugar ? 0 : s->extract, b->z, WF_DRAWS,
                         b->extract + i * WF_DRAWS);
    }
    for (size_t i = 0; i < r->hop_count; i++) {
        b->additions[i] = r->hops[i].addition;
        b->grams[i] = r->hops[i].grams;
        wf_draws_factors(wf_draws_source("alpha", r->hops[i].id), s->alpha, b->z, WF_DRAWS,
                         b->alpha + i * WF_DRAWS);
    }
}

/* ---- Brews ----------------------------------------------------------------------------------- */

static double factor(const struct brews *b, enum common c, size_t brew)
{
    return b->common[(size_t)c * WF_DRAWS + brew];
}

/* The recipe as it was said, but for this brew's errors. */
static enum wf_status brew(struct brews *b, size_t n, struct wf_beer *beer)
{
    const struct wf_recipe *r = b->r;
    struct wf_kettle kettle = r->kettle;
    double attenuation = r->yeast.attenuation;
    kettle.efficiency = fmin(1, kettle.efficiency * factor(b, EFFICIENCY, n));
    if (!isnan(attenuation))
        attenuation = fmin(1, attenuation * factor(b, ATTENUATION, n));
    for (size_t i = 0; i < r->malt_count; i++)
        b->grains[i].yield = fmin(1, r->malts[i].grain.yield * b->extract[i * WF_DRAWS + n]);
    for (size_t i = 0; i < r->hop_count; i++)
        b->additions[i].alpha = fmin(1, r->hops[i].addition.alpha * b->alpha[i * WF_DRAWS + n]);
    WF_TRY(wf_beer_predict(&kettle, b->grains, b->kg, r->malt_count, b->additions, b->grams,
                           r->hop_count, attenuation, beer, NULL));
    beer->srm *= factor(b, COLOUR, n);
    beer->ebc *= factor(b, COLOUR, n);
    beer->ibu *= factor(b, UTILISATION, n);
    beer->ratio *= factor(b, UTILISATION, n);
    return WF_OK;
}

static enum wf_status brew_all(struct brews *b)
{
    for (size_t n = 0; n < WF_DRAWS; n++) {
        struct wf_beer beer;
        WF_TRY(brew(b, n, &beer));
        for (size_t f = 0; f < WF_BEER_FIGURES; f++)
            b->figure[f * WF_DRAWS + n] = wf_beer_figure_value(&wf_beer_figures[f], &beer);
    }
    return WF_OK;
}

/* ---- Ranges ---------------------------------------------------------------------------------- */

/* The wish as it is met, a hair wider than it is said. A figure that was not reckoned has no wish
 * either: there is no yeast to wish of. */
static struct wf_range wanted_of(const struct brews *b, const struct wf_target *t, size_t f)
{
    const struct wf_beer_figure *figure = &wf_beer_figures[f];
    struct wf_range wanted = wf_beer_figure_wanted(figure, t);
    if (isnan(b->figure[f * WF_DRAWS]) || wf_range_is_any(wanted))
        return wf_range_any();
    wanted.low -= wf_wish_slack(figure->dimension, wanted.low);
    wanted.high += wf_wish_slack(figure->dimension, wanted.high);
    return wanted;
}

/* A central range lies within a wish if no more than half of what it leaves out is on either side
 * of the wish. */
static double sureness(const struct brews *b, const struct wf_target *t)
{
    double each = NAN;
    for (size_t f = 0; f < WF_BEER_FIGURES; f++) {
        const struct wf_range wanted = wanted_of(b, t, f);
        size_t below = 0, above = 0;
        if (wf_range_is_any(wanted))
            continue;
        for (size_t n = 0; n < WF_DRAWS; n++) {
            below += b->figure[f * WF_DRAWS + n] < wanted.low;
            above += b->figure[f * WF_DRAWS + n] > wanted.high;
        }
        double out = 2 * (double)(below > above ? below : above) / WF_DRAWS;
        each = fmin(fmax(0, 1 - out), each); /* fmin leaves a NaN out */
    }
    return each;
}

static double share_meeting_all(const struct brews *b, const struct wf_target *t)
{
    bool missed[WF_DRAWS] = {false};
    size_t met = 0;
    for (size_t f = 0; f < WF_BEER_FIGURES; f++) {
        const struct wf_range wanted = wanted_of(b, t, f);
        const double *got = b->figure + f * WF_DRAWS;
        for (size_t n = 0; n < WF_DRAWS && !wf_range_is_any(wanted); n++)
            missed[n] |= !(got[n] >= wanted.low && got[n] <= wanted.high);
    }
    for (size_t n = 0; n < WF_DRAWS; n++)
        met += !missed[n];
    return (double)met / WF_DRAWS;
}

/* Puts the figures in another order, so it comes last. */
static void set_ends(struct brews *b, double probability, struct wf_ranges *out)
{
    const struct wf_beer none = {NAN, NAN, NAN, NAN, NAN, NAN, NAN, NAN, NAN, NAN, NAN};
    double out_of_it = (1 - probability) / 2;
    out->low = out->high = none;
    for (size_t f = 0; f < WF_BEER_FIGURES; f++) {
        double *x = b->figure + f * WF_DRAWS;
        if (isnan(x[0]))
            continue;
        *wf_beer_figure_at(&wf_beer_figures[f], &out->low) =
            wf_draws_quantile(x, WF_DRAWS, out_of_it);
        *wf_beer_figure_at(&wf_beer_figures[f], &out->high) =
            wf_draws_quantile(x, WF_DRAWS, 1 - out_of_it);
    }
}

static enum wf_status refuse(const struct wf_recipe *r, enum wf_status status, struct wf_error *e)
{
    if (status != WF_OUT_OF_RANGE)
        return wf_error_add(e, status, "out of memory while reckoning ranges");
    return wf_error_add(e, status,
                        "recipe \"%s\" has no ranges: with its errors some brews of it would leave "
                        "what the laws of brewing cover, gravities up to %.3f",
                        r->name != NULL ? r->name : "", WF_GRAVITY_MOST);
}

enum wf_status wf_recipe_add_ranges(struct wf_recipe *r, const struct wf_target *t,
                                    const struct wf_spread *s, double probability,
                                    struct wf_error *e)
{
    struct brews b;
    enum wf_status status = WF_MEMORY;
    r->ranges = NULL;
    struct wf_ranges *out = wf_arena_alloc(r->arena, 1, sizeof *out);
    if (brews_room(&b, r) && out != NULL) {
        draw(&b, s);
        status = brew_all(&b);
    }
    if (status == WF_OK) {
        out->probability = probability;
        out->each = sureness(&b, t);
        out->all = isnan(out->each) ? (double)NAN : share_meeting_all(&b, t);
        set_ends(&b, probability, out);
        r->ranges = out;
    }
    brews_free(&b);
    return status == WF_OK ? WF_OK : refuse(r, status, e);
}
