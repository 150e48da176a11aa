/* report_check.c: a recipe reckoned forwards, and held against a target. */
#include "wortfit/report.h"

#include "base/number.h"
#include "base/try.h"
#include "report/basis.h"
#include "wortfit/solve.h" /* wf_text_release */

#include <math.h>
#include <string.h>

static void add_enzymes(struct wf_text *out, const struct wf_recipe *r,
                        const struct wf_report_style *s)
{
    char power[32], line[100];
    if (isnan(r->predicted.lintner))
        return;
    wf_snprintf(
        line, sizeof line, "diastatic power %s",
        wf_quantity_print(WF_DIM_DIASTATIC, r->predicted.lintner, s->units, power, sizeof power));
    wf_style_labelled(out, s, WF_MARK_STRONG, "Mash", WF_BASIS_LABEL, line);
}

static void add_verdict(struct wf_text *out, const struct wf_recipe *r, const char *target,
                        const struct wf_report_style *s)
{
    char line[WF_PLAIN_MOST];
    size_t missed = 0;
    for (size_t i = 0; i < r->wish_count; i++)
        missed += !r->wishes[i].met;
    if (missed > 0)
        wf_snprintf(line, sizeof line, "%zu of %zu wishes for \"%s\" missed", missed, r->wish_count,
                    target);
    else
        wf_snprintf(line, sizeof line, "all %zu wishes for \"%s\" met", r->wish_count, target);
    wf_style_labelled(out, s, WF_MARK_STRONG, "Verdict", WF_BASIS_LABEL, line);
}

enum wf_status wf_report_check_text(const struct wf_recipe *r, const char *target,
                                    const struct wf_report_style *s, char **out, struct wf_error *e)
{
    struct wf_text text = {0};
    char *recipe = NULL;
    WF_TRY(wf_report_recipe_text(r, s, &recipe, e));
    wf_text_append(&text, recipe, strlen(recipe));
    wf_text_release(recipe);
    wf_basis_add(&text, r, s);
    add_enzymes(&text, r, s);
    if (target)
        add_verdict(&text, r, target, s);
    return wf_text_hand_over(&text, out, e);
}
