/* cmd_scale.c: wortfit scale RECIPE. */
#include "cli/recipe_inputs.h"

#include "base/try.h"
#include "cli/lister.h" /* wf_unit_words */

#include <math.h>

struct scale_options {
    struct wf_recipe_options recipe;
    double batch; /* L */
};

static const struct wf_option rows[] = {
    WF_ROW_BATCH(.offset = offsetof(struct scale_options, batch),
                 "wort after the boil (the brewhouse's)"),
    WF_RECIPE_OPTIONS(struct scale_options, "the system that it is for (one like the recipe's)"),
    {.kind = WF_OPTION_END},
};

/* A system like the recipe's own, with the usual scale. */
static struct wf_brewhouse own_system(const struct wf_recipe *r, enum wf_units units)
{
    struct wf_brewhouse b;
    wf_brewhouse_default(units, &b);
    b.efficiency = r->kettle.efficiency;
    b.evaporation_l_h = r->kettle.evaporation_l_h;
    b.bitterness_factor = r->kettle.bitterness_factor;
    b.colour_factor = r->kettle.colour_factor;
    return b;
}

static enum wf_status scale(const struct wf_recipe_inputs *in, const struct wf_recipe *r,
                            const struct scale_options *o, struct wf_recipe **scaled,
                            struct wf_error *e)
{
    struct wf_brewhouse own = own_system(r, wf_recipe_style(&o->recipe).units);
    struct wf_scale_options s = {
        .batch_l = o->batch, .brewhouse = in->brewhouse ? in->brewhouse : &own, .store = in->store};
    if (isnan(s.batch_l))
        s.batch_l = s.brewhouse->batch_given ? s.brewhouse->batch_l : r->kettle.batch_l;
    return wf_recipe_scale(r, &s, scaled, e);
}

static enum wf_status report(const struct wf_recipe *r, const struct wf_recipe *scaled,
                             const struct scale_options *o, struct wf_text *out, struct wf_error *e)
{
    struct wf_report_style style = wf_recipe_style(&o->recipe);
    struct wf_comparison *c = NULL;
    char *text = NULL;
    WF_TRY(wf_compare(r, scaled, &c, e));
    enum wf_status status = o->recipe.json ? wf_report_recipe_json(scaled, &text, e)
                                           : wf_report_scale_text(c, &style, &text, e);
    wf_comparison_free(c);
    wf_add_report(out, text);
    return status;
}

static enum wf_status run(const struct wf_call *call, struct wf_text *out, struct wf_error *e)
{
    const struct scale_options *o = call->options;
    struct wf_recipe_inputs in = {0};
    struct wf_recipe *r = NULL, *scaled = NULL;
    enum wf_status status;
    if (isnan(o->batch) && !o->recipe.brewhouse)
        return wf_error_add(e, WF_USAGE, "scale to what? give --batch, --brewhouse or both");
    WF_TRY_GOTO(wf_recipe_inputs_read(&in, &o->recipe, e));
    WF_TRY_GOTO(wf_recipe_inputs_recipe(&in, call->operands[0], NULL, &r, e));
    WF_TRY_GOTO(scale(&in, r, o, &scaled, e));
    WF_TRY_GOTO(report(r, scaled, o, out, e));
done:
    wf_recipe_free(scaled);
    wf_recipe_free(r);
    wf_recipe_inputs_free(&in);
    return status;
}

const struct wf_command wf_command_scale = {
    .name = "scale",
    .operands = "RECIPE",
    .least = 1,
    .most = 1,
    .summary = "make the same beer in another amount or on another system",
    .about = "Shares, gravity, the bitterness of early hops and the dose of late ones are\n"
             "kept, as near as the scale's steps allow. With --json it is a recipe again.\n",
    .example = "wortfit scale examples/last-autumn-amber.json --batch \"40 L\"",
    .options = rows,
    .options_size = sizeof(struct scale_options),
    .run = run,
};
