/* fuzz_day.h: a brew day of what was read, in all its forms: it balances, or it is said why it
 * cannot be. */
#ifndef WF_FUZZ_DAY_H
#define WF_FUZZ_DAY_H

#include "fuzz/fuzz.h"

#include <math.h>

static inline void fuzz_day_balances(const struct wf_brewday_water *w)
{
    double in = w->mash_l + w->sparge_l + w->early_l + w->late_l;
    double out = w->absorbed_l + w->dead_l + w->evaporated_l + w->kettle_loss_l +
                 w->fermenter_loss_l + w->dry_hops_l + w->packaged_l;
    FUZZ_MUST(fabs(in - out) <= 1e-3 + 1e-9 * in);
    FUZZ_MUST(w->packaged_l > 0 && w->mash_l > 0 && w->sparge_l >= 0);
}

/* No figure that is none may be shown; names must have none of these letters then. */
static inline void fuzz_day_shows_figures(const char *text)
{
    FUZZ_MUST(!strstr(text, "nan") && !strstr(text, "inf "));
}

static inline void fuzz_day_write(const struct wf_brewday *day, bool plain_names)
{
    static struct wf_error e;
    for (int us = 0; us < 2; us++) {
        const struct wf_report_style style = {us ? WF_UNITS_US : WF_UNITS_METRIC, false};
        char *text = NULL;
        wf_error_clear(&e);
        FUZZ_MUST(wf_report_sheet_text(day, &style, &text, &e) == WF_OK);
        if (plain_names)
            fuzz_day_shows_figures(text);
        wf_text_release(text);
        FUZZ_MUST(wf_report_sheet_html(day, &style, &text, &e) == WF_OK);
        FUZZ_MUST(!strstr(text, "<script") && !strstr(text, "<img"));
        wf_text_release(text);
        FUZZ_MUST(wf_report_sheet_json(day, &text, &e) == WF_OK);
        wf_text_release(text);
    }
}

static inline void fuzz_day(const struct wf_recipe *r, const struct wf_brewhouse *b,
                            bool plain_names)
{
    static struct wf_error e;
    struct wf_brewday_options o;
    struct wf_brewday *day = NULL;
    wf_brewday_usual(&o);
    for (int keg = 0; keg < 2; keg++) {
        o.keg = keg != 0;
        wf_error_clear(&e);
        enum wf_status status = wf_brewday_plan(r, b, NULL, fuzz_catalogue(), &o, &day, &e);
        fuzz_check_status(status, &e);
        FUZZ_MUST((status == WF_OK) == (day != NULL));
        if (!day)
            continue;
        fuzz_day_balances(&day->water);
        fuzz_day_write(day, plain_names);
        wf_brewday_free(day);
    }
}

#endif
