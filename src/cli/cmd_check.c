/* cmd_check.c: wortfit check RECIPE. */
#include "cli/recipe_inputs.h"

#include "base/try.h"
#include "cli/lister.h" /* wf_unit_words */

struct check_options {
    struct wf_recipe_options recipe;
    const char *target;
};

static const struct wf_option rows[] = {
    {.name = "target",
     .word = "TARGET",
     .kind = WF_OPTION_TEXT,
     .offset = offsetof(struct check_options, target),
     .text = "hold it against a beer, built in or a file"},
    WF_RECIPE_OPTIONS(struct check_options, "brew it there (its own system; 20 L, 75 %)"),
    {.kind = WF_OPTION_END},
};

/* The brewhouse that was given, or the usual one: its scale judges doses, its spreads make ranges.
 */
static struct wf_brewhouse brewhouse_of(const struct wf_recipe_inputs *in,
                                        const struct check_options *o)
{
    struct wf_brewhouse usual;
    wf_brewhouse_default(wf_recipe_style(&o->recipe).units, &usual);
    return in->brewhouse ? *in->brewhouse : usual;
}

/* A recipe so strong that the laws do not cover all brews of it is shown without ranges. */
static enum wf_status add_ranges(struct wf_recipe *r, const struct wf_target *t,
                                 const struct wf_spread *spread, struct wf_error *e)
{
    struct wf_error none = {0};
    enum wf_status status = wf_recipe_add_ranges(r, t, spread, WF_SURE_PROBABILITY, &none);
    return status == WF_OK || status == WF_OUT_OF_RANGE ? WF_OK
                                                        : wf_error_add(e, status, "%s", none.text);
}

static enum wf_status report(const struct wf_recipe *r, const struct wf_target *t,
                             const struct check_options *o, struct wf_text *out, struct wf_error *e)
{
    char *text = NULL;
    struct wf_report_style style = wf_recipe_style(&o->recipe);
    WF_TRY(o->recipe.json ? wf_report_recipe_json(r, &text, e)
                          : wf_report_check_text(r, t ? t->name : NULL, &style, &text, e));
    wf_add_report(out, text);
    return WF_OK;
}

/* WF_NO_RECIPE where a wish is missed; the report is there all the same. */
static enum wf_status check(const struct wf_recipe_inputs *in, struct wf_recipe *r,
                            const struct wf_target *t, const struct check_options *o,
                            struct wf_text *out, struct wf_error *e)
{
    struct wf_brewhouse b = brewhouse_of(in, o);
    enum wf_status status = wf_recipe_check(r, t, in->catalogue, b.step_hop_g, e);
    if (status != WF_OK && status != WF_NO_RECIPE)
        return status;
    WF_TRY(add_ranges(r, t, &b.spread, e));
    WF_TRY(report(r, t, o, out, e));
    return status;
}

static enum wf_status run(const struct wf_call *call, struct wf_text *out, struct wf_error *e)
{
    const struct check_options *o = call->options;
    struct wf_recipe_inputs in = {0};
    struct wf_recipe *r = NULL;
    struct wf_target *t = NULL;
    enum wf_status status;
    WF_TRY_GOTO(wf_recipe_inputs_read(&in, &o->recipe, e));
    if (o->target)
        WF_TRY_GOTO(wf_target_find(o->target, in.catalogue, &t, e));
    WF_TRY_GOTO(wf_recipe_inputs_recipe(&in, call->operands[0], in.brewhouse, &r, e));
    status = check(&in, r, t, o, out, e);
done:
    wf_recipe_free(r);
    wf_target_free(t);
    wf_recipe_inputs_free(&in);
    return status;
}

const struct wf_command wf_command_check = {
    .name = "check",
    .operands = "RECIPE",
    .least = 1,
    .most = 1,
    .summary = "reckon what a recipe gives, and hold it against a beer",
    .about = "RECIPE is a file, typed by hand or from 'wortfit solve --json'; - is stdin.\n"
             "Names or ids and weights are enough. Exit status 3: a wish is missed.\n",
    .example = "wortfit check examples/last-autumn-amber.json --target amber-ale",
    .options = rows,
    .options_size = sizeof(struct check_options),
    .run = run,
};
