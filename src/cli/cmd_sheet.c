/* cmd_sheet.c: wortfit sheet RECIPE. */
#include "cli/recipe_inputs.h"

#include "base/file.h"
#include "base/try.h"
#include "cli/lister.h" /* wf_unit_words */
#include "report/style.h"

#include <string.h>

struct sheet_options {
    struct wf_recipe_options recipe;
    const char *target, *html;
    bool text, keg;
    double carbonation, beer, grain, mash;
    struct wf_choices priming;
};
#define AT(member) offsetof(struct sheet_options, member)

static const char *const priming_words[] = {
    [WF_SUCROSE] = "sucrose", [WF_DEXTROSE] = "dextrose", [WF_DRY_EXTRACT] = "malt extract", NULL};

static const struct wf_option rows[] = {
    {.name = "html",
     .word = "FILE",
     .kind = WF_OPTION_TEXT,
     .offset = AT(html),
     .text = "write it as one HTML file; -: print it"},
    {.name = "text",
     .kind = WF_OPTION_FLAG,
     .offset = AT(text),
     .text = "print it as text beside --html, too"},
    {.name = "target",
     .word = "TARGET",
     .kind = WF_OPTION_TEXT,
     .offset = AT(target),
     .text = "the beer it should be: its window of gravity, its body"},
    {.name = "carbonation",
     .word = "GAS",
     .kind = WF_OPTION_QUANTITY,
     .dimension = WF_DIM_CARBONATION,
     .least = 0.5,
     .most = 6,
     .limits = "0.5 vol to 6 vol",
     .offset = AT(carbonation),
     .text = "carbon dioxide wanted, \"2.4 vol\" (by the yeast)"},
    {.name = "priming",
     .word = "SUGAR",
     .kind = WF_OPTION_CHOICES,
     .words = priming_words,
     .preset = "dextrose",
     .offset = AT(priming),
     .text = "sucrose, dextrose or \"malt extract\""},
    {.name = "beer-temperature",
     .word = "T",
     .kind = WF_OPTION_QUANTITY,
     .dimension = WF_DIM_TEMPERATURE,
     .least = 0,
     .most = 27,
     .limits = "0 C to 27 C",
     .offset = AT(beer),
     .text = "warmest since it was done, or in the keg (4 C)"},
    {.name = "keg",
     .kind = WF_OPTION_FLAG,
     .offset = AT(keg),
     .text = "a keg and gas, not bottles and sugar"},
    {.name = "grain-temperature",
     .word = "T",
     .kind = WF_OPTION_QUANTITY,
     .dimension = WF_DIM_TEMPERATURE,
     .least = -20,
     .most = 50,
     .limits = "-20 C to 50 C",
     .offset = AT(grain),
     .text = "of the grain on the day (the brewhouse's)"},
    {.name = "mash",
     .word = "T",
     .kind = WF_OPTION_QUANTITY,
     .dimension = WF_DIM_TEMPERATURE,
     .least = 55,
     .most = 75,
     .limits = "55 C to 75 C",
     .offset = AT(mash),
     .text = "one rest at that (rests by the beer's body)"},
    WF_RECIPE_OPTIONS(struct sheet_options, "brew it there (its own system, usual losses)"),
    {.kind = WF_OPTION_END},
};

/* Volumes are printed to a hundredth, larger batches to a tenth or whole. */
static double step_of(double batch_l)
{
    return batch_l < 100 ? 0.01 : batch_l < 1000 ? 0.1 : 1;
}

static struct wf_brewday_options plan_options(const struct sheet_options *o, double batch_l)
{
    struct wf_brewday_options plan;
    wf_brewday_usual(&plan);
    plan.volumes = o->carbonation;
    plan.priming = (enum wf_priming)o->priming.picked[0];
    plan.keg = o->keg;
    plan.beer_celsius = o->beer;
    plan.grain_celsius = o->grain;
    plan.mash_celsius = o->mash;
    bool us = wf_recipe_style(&o->recipe).units == WF_UNITS_US;
    plan.volume_step_l = step_of(batch_l) * (us ? WF_L_PER_US_GAL : 1);
    return plan;
}

/* The wishes of a beer are what the sheet takes its window and body from; missing one is no
 * hindrance to brewing. */
static enum wf_status hold_against(struct wf_recipe *r, const struct wf_recipe_inputs *in,
                                   const char *name, struct wf_error *e)
{
    struct wf_target *t = NULL;
    struct wf_error missed = {0};
    WF_TRY(wf_target_find(name, in->catalogue, &t, e));
    enum wf_status status = wf_recipe_check(r, t, in->catalogue, 1, &missed);
    wf_target_free(t);
    return status == WF_OK || status == WF_NO_RECIPE ? WF_OK
                                                     : wf_error_add(e, status, "%s", missed.text);
}

/* How far brews vary; a recipe at the edge of the laws has no such range. */
static enum wf_status add_ranges(struct wf_recipe *r, const struct wf_brewhouse *b,
                                 struct wf_error *e)
{
    struct wf_brewhouse usual;
    struct wf_error why = {0};
    wf_brewhouse_default(WF_UNITS_METRIC, &usual);
    enum wf_status status =
        wf_recipe_add_ranges(r, NULL, b ? &b->spread : &usual.spread, WF_SURE_PROBABILITY, &why);
    return status == WF_MEMORY ? wf_error_add(e, status, "%s", why.text) : WF_OK;
}

static bool ends_in(const char *name, const char *end)
{
    size_t length = strlen(name), tail = strlen(end);
    return length > tail && strcmp(name + length - tail, end) == 0;
}

/* A recipe or store must not be written over by a slip of the hand. */
static enum wf_status check_html(const struct sheet_options *o, struct wf_error *e)
{
    bool print = o->html && strcmp(o->html, "-") == 0;
    if (print && (o->text || o->recipe.json))
        return wf_error_add(e, WF_USAGE,
                            "option --html: - prints it alone, so neither --text nor "
                            "--json can be given beside it");
    if (!o->html || print || ends_in(o->html, ".html") || ends_in(o->html, ".htm"))
        return WF_OK;
    return wf_error_add(e, WF_USAGE, "option --html: '%s' is not a file name ending in .html",
                        o->html);
}

static enum wf_status write_html(const struct wf_brewday *day, const struct sheet_options *o,
                                 struct wf_text *out, struct wf_error *e)
{
    char *html = NULL;
    struct wf_report_style style = wf_recipe_style(&o->recipe);
    WF_TRY(wf_report_sheet_html(day, &style, &html, e));
    if (strcmp(o->html, "-") == 0) {
        wf_add_report(out, html);
        return WF_OK;
    }
    enum wf_status status = wf_file_write(o->html, html, strlen(html), e);
    wf_text_release(html);
    if (status == WF_OK && !o->text && !o->recipe.json) {
        wf_plain_add(out, o->html);
        wf_text_add(out, " written: open it in a browser, or print it\n");
    }
    return status;
}

static enum wf_status report(const struct wf_brewday *day, const struct sheet_options *o,
                             struct wf_text *out, struct wf_error *e)
{
    char *text = NULL;
    struct wf_report_style style = wf_recipe_style(&o->recipe);
    if (o->html)
        WF_TRY(write_html(day, o, out, e));
    if (o->recipe.json)
        WF_TRY(wf_report_sheet_json(day, &text, e));
    else if (o->text || !o->html)
        WF_TRY(wf_report_sheet_text(day, &style, &text, e));
    wf_add_report(out, text);
    return WF_OK;
}

static enum wf_status run(const struct wf_call *call, struct wf_text *out, struct wf_error *e)
{
    const struct sheet_options *o = call->options;
    struct wf_recipe_inputs in = {0};
    struct wf_recipe *r = NULL;
    struct wf_brewday *day = NULL;
    enum wf_status status;
    WF_TRY_GOTO(check_html(o, e));
    WF_TRY_GOTO(wf_recipe_inputs_read(&in, &o->recipe, e));
    WF_TRY_GOTO(wf_recipe_inputs_recipe(&in, call->operands[0], in.brewhouse, &r, e));
    if (o->target)
        WF_TRY_GOTO(hold_against(r, &in, o->target, e));
    WF_TRY_GOTO(add_ranges(r, in.brewhouse, e));
    const struct wf_brewday_options plan = plan_options(o, r->kettle.batch_l);
    WF_TRY_GOTO(wf_brewday_plan(r, in.brewhouse, in.store, in.catalogue, &plan, &day, e));
    status = report(day, o, out, e);
done:
    wf_brewday_free(day);
    wf_recipe_free(r);
    wf_recipe_inputs_free(&in);
    return status;
}

const struct wf_command wf_command_sheet = {
    .name = "sheet",
    .operands = "RECIPE",
    .least = 1,
    .most = 1,
    .summary = "the whole brew day, from the scale to the bottle",
    .about = "Weights, water, temperatures, the boil's clock, yeast, sugar for the bottles;\n"
             "for each reading what to expect and what to do where it is off.\n",
    .example = "wortfit sheet examples/spring-bitter.json --carbonation \"2.2 vol\"",
    .options = rows,
    .options_size = sizeof(struct sheet_options),
    .run = run,
};
