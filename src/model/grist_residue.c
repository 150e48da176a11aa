/*
 * The residue that final gravity and alcohol allow, as rows of the grist.
 */
#include "model/grist_parts.h"

#include "base/try.h"
#include "model/wish_rows.h"

#include <math.h>

struct residue_wish {
    struct wf_range range;
    enum wf_status (*residue)(double og, double wanted, double *kg_per_l);
    bool falls; /* more residue gives less of it */
    double notch;
    const char *label;
};

/* A bound of the residue as a straight line in the extract: constant + slope x extract, kg. */
struct line {
    double constant, slope;
};

/* How far the residue passes the line in the middle of the window, where it is farthest from it;
 * < 0: falls short of it. */
static enum wf_status bulge_of(const struct wf_grist_build *b, const struct residue_wish *w,
                               double wanted, const struct line *l, double *kg)
{
    double batch = b->p->kettle.batch_l, og = (b->o->og_low + b->o->og_high) / 2, residue, extract;
    WF_TRY(w->residue(og, wanted, &residue));
    WF_TRY(wf_extract_from_gravity(og, &extract));
    *kg = batch * residue - l->constant - l->slope * batch * extract;
    return WF_OK;
}

#define BULGE_ROOM 1.05 /* for what is not quite in the middle */

/* Through the window's two ends, and then out by what the bound is not straight, so that no recipe
 * that meets the wish is left out: a proof holds for them all. What is let in beyond the wish is
 * within a wish's slack, since windows are narrow enough for that (wf_residue_parts). An elastic
 * row asks only how far off a recipe is, and stays at the ends. */
static enum wf_status line_of(const struct wf_grist_build *b, const struct residue_wish *w,
                              double wanted, bool at_most, bool elastic, struct line *l)
{
    double batch = b->p->kettle.batch_l, at_low, at_high, bulge;
    WF_TRY(w->residue(b->o->og_low, wanted, &at_low));
    WF_TRY(w->residue(b->o->og_high, wanted, &at_high));
    l->slope = 0;
    if (b->extract_high > b->extract_low * (1 + 1e-12))
        l->slope = batch * (at_high - at_low) / (b->extract_high - b->extract_low);
    l->constant = batch * at_low - l->slope * b->extract_low;
    if (elastic)
        return WF_OK;
    WF_TRY(bulge_of(b, w, wanted, l, &bulge));
    l->constant += BULGE_ROOM * (at_most ? fmax(0, bulge) : fmin(0, bulge));
    return WF_OK;
}

static enum wf_status add_residue_bound(struct wf_grist_build *b, const struct residue_wish *w,
                                        double wanted, bool at_most, bool elastic)
{
    struct line l;
    WF_TRY(line_of(b, w, wanted, at_most, elastic, &l));
    double batch = b->p->kettle.batch_l, constant = l.constant;
    int row =
        wf_wish_row(b->g->model, at_most ? -(double)INFINITY : constant,
                    at_most ? constant : (double)INFINITY, elastic, w->notch * batch, w->label);
    for (size_t i = 0; i < b->p->malt_count; i++) {
        double kg;
        WF_TRY(wf_residue_per_kg(&b->p->malts[i].lot->grain, &b->p->kettle,
                                 b->attenuation[at_most ? 1 : 0], &kg));
        wf_grist_term(b, row, i, kg - l.slope * b->p->malts[i].extract);
    }
    return WF_OK;
}

/* The laws end where a beer weighs as little as this, which some sugar worts would get to. */
#define FG_LEAST      (WF_GRAVITY_LEAST + 0.0005)
#define OG_HARDLY_ANY 1.005 /* SG */

/* Whether some lot alone, at the window's greatest gravity, would leave too little. */
static enum wf_status passes_the_laws(const struct wf_grist_build *b, bool *passes)
{
    double least, extract;
    WF_TRY(wf_residue_for_gravity(b->o->og_high, FG_LEAST, &least));
    WF_TRY(wf_extract_from_gravity(b->o->og_high, &extract));
    *passes = false;
    for (size_t i = 0; i < b->p->malt_count; i++) {
        double kg;
        WF_TRY(
            wf_residue_per_kg(&b->p->malts[i].lot->grain, &b->p->kettle, b->attenuation[0], &kg));
        *passes = *passes || kg * extract < least * b->p->malts[i].extract;
    }
    return WF_OK;
}

/* The yeasts' least and greatest attenuation: what ferments more leaves less. False: no yeast. */
static bool find_attenuation(struct wf_grist_build *b)
{
    const struct wf_problem *p = b->p;
    if (b->o->yeast != NULL) {
        b->attenuation[0] = b->attenuation[1] = b->o->yeast->attenuation;
        return true;
    }
    b->attenuation[0] = INFINITY;
    b->attenuation[1] = -(double)INFINITY;
    for (size_t i = 0; i < p->yeast_count && b->o->any_yeast; i++) {
        b->attenuation[0] = fmin(b->attenuation[0], p->yeasts[i].attenuation);
        b->attenuation[1] = fmax(b->attenuation[1], p->yeasts[i].attenuation);
    }
    return b->attenuation[0] <= b->attenuation[1];
}

/* What the laws leave at least. An elastic grist may be far weaker than the window, where the line
 * through the window's two ends says nothing: there it goes through hardly any gravity. */
static enum wf_status add_laws_least(struct wf_grist_build *b, const struct residue_wish *fg)
{
    struct wf_grist_options wide = *b->o;
    struct wf_grist_build from = *b;
    if (wide.elastic) {
        wide.og_low = fmin(wide.og_low, OG_HARDLY_ANY);
        WF_TRY(wf_extract_from_gravity(wide.og_low, &from.extract_low));
        from.extract_low *= b->p->kettle.batch_l;
        from.o = &wide;
    }
    return add_residue_bound(&from, fg, FG_LEAST, false, false);
}

enum wf_status wf_grist_add_residue(struct wf_grist_build *b)
{
    const struct wf_target *t = b->p->target;
    const struct residue_wish wishes[] = {
        {t->fg, wf_residue_for_gravity, false, 0.0021, "final gravity"},
        {t->abv, wf_residue_for_alcohol, true, 0.003, "alcohol"},
    };
    bool passes, elastic = b->o->elastic;
    if (!find_attenuation(b))
        return WF_OK;
    for (size_t i = 0; i < WF_COUNT_OF(wishes); i++) {
        const struct residue_wish *w = &wishes[i];
        if (isfinite(w->range.low))
            WF_TRY(add_residue_bound(b, w, w->range.low, w->falls, elastic));
        if (isfinite(w->range.high))
            WF_TRY(add_residue_bound(b, w, w->range.high, !w->falls, elastic));
    }
    WF_TRY(passes_the_laws(b, &passes));
    if (passes && (elastic || !isfinite(t->fg.low)))
        return add_laws_least(b, &wishes[0]);
    return WF_OK;
}
