/*
 * wish_rows.h: what the grist's and the hops' models share: a wish as a row that holds, or, in an
 * elastic model, as one that may be missed at a cost; and an aim.
 */
#ifndef WF_WISH_ROWS_H
#define WF_WISH_ROWS_H

#include "model/model.h"
#include "wortfit/quantity.h"

/* A row low..high; elastic: with columns for falling short and for passing, each costing 1 a notch.
 */
int wf_wish_row(struct wf_model *m, double low, double high, bool elastic, double notch,
                const char *label);

/* A row that makes deviation[0] the distance below aim[0] in units of `below` (the window's side),
 * and deviation[1] that above. A side of no width or no end gets no column, since it cannot be
 * entered or has no measure: its unit is then the other's. */
int wf_aim_row(struct wf_model *m, const double aim[2], double below, double above,
               int deviation[2], const char *label);

/* kg of residue per litre of wort of gravity og that gives this final gravity, or this alcohol by
 * volume. */
enum wf_status wf_residue_for_gravity(double og, double fg, double *kg_per_l) WF_MUST_USE;
enum wf_status wf_residue_for_alcohol(double og, double abv, double *kg_per_l) WF_MUST_USE;

/* Into how many equal parts a window of gravities must be cut for the residue that a wish allows to
 * be a straight line in the extract over each of them, but for what nobody could tell. Any
 * ranges: 1.
 */
enum wf_status wf_residue_parts(struct wf_range fg, struct wf_range abv, double og_low,
                                double og_high, size_t *parts) WF_MUST_USE;

#endif
