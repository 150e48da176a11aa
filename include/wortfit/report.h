/*
 * report.h: a finished result as text. It computes nothing about brewing.
 */
#ifndef WORTFIT_REPORT_H
#define WORTFIT_REPORT_H

#include "wortfit/pantry.h"

struct wf_report_style {
    enum wf_units units;
    bool colour; /* terminal escapes for emphasis */
};

/* Text for a brewer: grist, hop schedule in boil order, yeast, wanted against got, cost, proof.
 * *out is the caller's to free with wf_text_release() (solve.h). */
enum wf_status wf_report_recipe_text(const struct wf_recipe *r, const struct wf_report_style *s,
                                     char **out, struct wf_error *e) WF_MUST_USE;
/* The recipe file (JSON), as every other command reads it. */
enum wf_status wf_report_recipe_json(const struct wf_recipe *r, char **out,
                                     struct wf_error *e) WF_MUST_USE;

#endif
