/* cmd_compare.c: wortfit compare RECIPE RECIPE. */
#include "cli/recipe_inputs.h"

#include "base/try.h"
#include "cli/lister.h" /* wf_unit_words */

struct compare_options {
    struct wf_recipe_options recipe;
};

static const struct wf_option rows[] = {
    WF_RECIPE_OPTIONS(struct compare_options, "brew both there (each on its own; 20 L, 75 %)"),
    {.kind = WF_OPTION_END},
};

static enum wf_status run(const struct wf_call *call, struct wf_text *out, struct wf_error *e)
{
    const struct compare_options *o = call->options;
    struct wf_report_style style = wf_recipe_style(&o->recipe);
    struct wf_recipe_inputs in = {0};
    struct wf_recipe *r[2] = {NULL, NULL};
    struct wf_comparison *c = NULL;
    char *text = NULL;
    enum wf_status status;
    WF_TRY_GOTO(wf_recipe_inputs_read(&in, &o->recipe, e));
    for (int which = 0; which < 2; which++)
        WF_TRY_GOTO(
            wf_recipe_inputs_recipe(&in, call->operands[which], in.brewhouse, &r[which], e));
    WF_TRY_GOTO(wf_compare(r[0], r[1], &c, e));
    WF_TRY_GOTO(o->recipe.json ? wf_report_compare_json(c, &text, e)
                               : wf_report_compare_text(c, &style, &text, e));
    wf_add_report(out, text);
done:
    wf_comparison_free(c);
    wf_recipe_free(r[0]);
    wf_recipe_free(r[1]);
    wf_recipe_inputs_free(&in);
    return status;
}

const struct wf_command wf_command_compare = {
    .name = "compare",
    .operands = "RECIPE RECIPE",
    .least = 2,
    .most = 2,
    .summary = "set two recipes and what they give side by side",
    .about = "Recipes of different batches are compared by shares and by doses.\n",
    .example = "wortfit compare examples/last-autumn-amber.json mine.json --units us",
    .options = rows,
    .options_size = sizeof(struct compare_options),
    .run = run,
};
