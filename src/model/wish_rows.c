/*
 * Wishes as rows, and the residue that a final gravity or an alcohol content allows.
 */
#include "model/wish_rows.h"

#include "base/try.h"
#include "wortfit/brewing.h"

#include <math.h>

int wf_wish_row(struct wf_model *m, double low, double high, bool elastic, double notch,
                const char *label)
{
    int row = wf_model_row(m, low, high, label);
    if (!elastic)
        return row;
    if (isfinite(low))
        wf_model_term(m, row, wf_model_column(m, 0, INFINITY, 1, false, label), notch);
    if (isfinite(high))
        wf_model_term(m, row, wf_model_column(m, 0, INFINITY, 1, false, label), -notch);
    return row;
}

int wf_aim_row(struct wf_model *m, const double aim[2], double below, double above,
               int deviation[2], const char *label)
{
    int row = wf_model_row(m, aim[0], aim[1], label);
    double side[2] = {isfinite(below) && below > 0 ? below : above,
                      isfinite(above) && above > 0 ? above : below};
    for (int i = 0; i < 2; i++) {
        double unit = isfinite(side[i]) && side[i] > 0 ? side[i] : 1;
        deviation[i] = wf_model_column(m, 0, INFINITY, 0, false, label);
        wf_model_term(m, row, deviation[i], i == 0 ? unit : -unit);
    }
    return row;
}

enum wf_status wf_residue_for_gravity(double og, double fg, double *kg_per_l)
{
    double original, apparent, real, extract;
    WF_TRY(wf_plato_from_gravity(og, &original));
    WF_TRY(wf_plato_from_gravity(fg, &apparent));
    WF_TRY(wf_extract_from_gravity(og, &extract));
    WF_TRY(wf_real_extract(original, apparent, &real));
    *kg_per_l = extract * real / original;
    return WF_OK;
}

/* Alcohol that a share of the original extract left unfermented gives. */
static enum wf_status alcohol_of_share(double original, double share, double *abv)
{
    double apparent, fg, abw;
    WF_TRY(wf_apparent_extract(original, share * original, &apparent));
    WF_TRY(wf_gravity_from_plato(apparent, &fg));
    WF_TRY(wf_alcohol_by_weight(original, share * original, &abw));
    return wf_alcohol_by_volume(abw, fg, abv);
}

/* Alcohol falls as the residue rises, so bisection finds the residue. An alcohol that the wort
 * cannot give would leave less than none: the figure goes on below 0, so that a straight line
 * between two gravities holds there too. */
#define SHARE_LEAST (-2.0)

enum wf_status wf_residue_for_alcohol(double og, double abv, double *kg_per_l)
{
    double original, extract, low = SHARE_LEAST, high = 1;
    WF_TRY(wf_plato_from_gravity(og, &original));
    WF_TRY(wf_extract_from_gravity(og, &extract));
    for (int i = 0; i < 60; i++) {
        /* Little residue in a strong wort: a beer below the laws' gravities, so stronger than any
         * wish. */
        double middle = (low + high) / 2, got = 1;
        enum wf_status status = alcohol_of_share(original, middle, &got);
        if (status != WF_OK && status != WF_OUT_OF_RANGE)
            return status;
        if (got > abv)
            low = middle;
        else
            high = middle;
    }
    *kg_per_l = extract * (low + high) / 2;
    return WF_OK;
}

/* ---- How straight it is ---------------------------------------------------------------------- */

/* kg/L of residue: 1e-6 of alcohol, half of what a wish may be missed by (wishes.c). */
#define RESIDUE_ROOM 2e-6
#define PARTS_MOST   64.0

/* The distance of a straight line between the two gravities from the residue falls with the square
 * of the window's width; in its middle it is greatest. */
static enum wf_status parts_for(enum wf_status (*residue)(double, double, double *), double wanted,
                                double og_low, double og_high, double *parts)
{
    double og = (og_low + og_high) / 2, low, high, middle, extract[3];
    if (!isfinite(wanted))
        return WF_OK;
    WF_TRY(residue(og_low, wanted, &low));
    WF_TRY(residue(og, wanted, &middle));
    WF_TRY(residue(og_high, wanted, &high));
    WF_TRY(wf_extract_from_gravity(og_low, &extract[0]));
    WF_TRY(wf_extract_from_gravity(og, &extract[1]));
    WF_TRY(wf_extract_from_gravity(og_high, &extract[2]));
    double along = (extract[1] - extract[0]) / (extract[2] - extract[0]);
    double off = fabs(low + along * (high - low) - middle);
    *parts = fmax(*parts, fmin(ceil(sqrt(off / RESIDUE_ROOM)), PARTS_MOST));
    return WF_OK;
}

enum wf_status wf_residue_parts(struct wf_range fg, struct wf_range abv, double og_low,
                                double og_high, size_t *parts)
{
    double most = 1;
    *parts = 1;
    if (og_high - og_low < 1e-6)
        return WF_OK;
    WF_TRY(parts_for(wf_residue_for_gravity, fg.low, og_low, og_high, &most));
    WF_TRY(parts_for(wf_residue_for_gravity, fg.high, og_low, og_high, &most));
    WF_TRY(parts_for(wf_residue_for_alcohol, abv.low, og_low, og_high, &most));
    WF_TRY(parts_for(wf_residue_for_alcohol, abv.high, og_low, og_high, &most));
    *parts = (size_t)most;
    return WF_OK;
}
