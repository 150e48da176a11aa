/*
 * report_brewed.h: a brew that was written down: what differed from the plan, and what is left of
 * the stock.
 */
#ifndef WF_REPORT_BREWED_H
#define WF_REPORT_BREWED_H

#include "wortfit/brew.h"
#include "wortfit/report.h"

struct wf_brewed_view {
    const struct wf_recipe *recipe; /* as it was brewed, on the system as planned */
    struct wf_beer planned;
    struct wf_measured measured;
    struct wf_brew_figures figures;
    const char *id, *log;
    long on;
    double left_l;                  /* in the kettle, part of the volume; 0: none */
    const struct wf_brewed *brewed; /* what became of the stock; NULL: it was not touched */
};

enum wf_status wf_report_brewed_text(const struct wf_brewed_view *v,
                                     const struct wf_report_style *s, char **out,
                                     struct wf_error *e) WF_MUST_USE;
/* See brewed.schema.json. */
enum wf_status wf_report_brewed_json(const struct wf_brewed_view *v, char **out,
                                     struct wf_error *e) WF_MUST_USE;

#endif
