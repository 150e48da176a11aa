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

/* Alcohol falls as the residue rises, so bisection finds the residue; an alcohol that the wort
 * cannot give leaves no residue at all, and none leaves all of it. */
enum wf_status wf_residue_for_alcohol(double og, double abv, double *kg_per_l)
{
    double original, extract, low = 0, high = 1;
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
