/* cmd_substitute.c: wortfit substitute RECIPE --without ID. */
#include "cli/revise_inputs.h"

#include "base/number.h"
#include "base/suggest.h"
#include "base/try.h"
#include "cli/lister.h" /* wf_unit_words */

#include <math.h>
#include <string.h>

#define ID_MOST 80

struct substitute_options {
    struct wf_revise_options revise;
    const char *const *without, *const *share;
    const char *target;
    double recipes;
};

#define AT(member) .offset = offsetof(struct substitute_options, member)

/* clang-format off */
static const struct wf_option rows[] = {
    {.name = "without", .word = "ID", .kind = WF_OPTION_TEXTS, AT(without),
     .text = "a malt, hop or yeast that has run out (may be repeated)"},
    {.name = "share", .word = "WHAT", .kind = WF_OPTION_TEXTS, AT(share),
     .text = "only so much is left: \"200 g vienna-malt\""},
    {.name = "recipes", .word = "N", .kind = WF_OPTION_QUANTITY, AT(recipes),
     .dimension = WF_DIM_NUMBER, .least = 1, .most = WF_ALTERNATIVES_MOST, .limits = "1 to 50",
     .preset = "3", .text = "so many revised recipes, nearest first"},
    {.name = "target", .word = "TARGET", .kind = WF_OPTION_TEXT, AT(target),
     .text = "the rules of this beer hold too"},
    WF_RECIPE_OPTIONS_OF(struct wf_revise_options, "lots to take from (the recipe's own and the sample shop)", "the system that it is brewed on (the recipe's)"),
    WF_REVISE_TIME_OPTION,
    {.kind = WF_OPTION_END},
};
/* clang-format on */

/* ---- What has run out ------------------------------------------------------------------------ */

static bool is_it(const char *id, const char *of, const char *wanted, bool by_entry)
{
    return strcmp(id, wanted) == 0 || (by_entry && of && strcmp(of, wanted) == 0);
}

static enum wf_status not_in_recipe(const char *option, const char *id, const struct wf_recipe *r,
                                    struct wf_error *e)
{
    const char *ids[128];
    size_t count = 0;
    for (size_t i = 0; i < r->malt_count && count < WF_COUNT_OF(ids) / 2; i++)
        ids[count++] = r->malts[i].id;
    for (size_t i = 0; i < r->hop_count && count < WF_COUNT_OF(ids) - 1; i++)
        ids[count++] = r->hops[i].id;
    if (r->yeast.id)
        ids[count++] = r->yeast.id;
    int near = wf_suggest(id, ids, count);
    if (near >= 0)
        return wf_error_add(e, WF_BAD_INPUT,
                            "option --%s: the recipe has no '%s', did you mean '%s'?", option, id,
                            ids[near]);
    return wf_error_add(e, WF_BAD_INPUT, "option --%s: the recipe has no '%s'", option, id);
}

static bool in_recipe(const struct wf_recipe *r, const char *id)
{
    bool in = r->yeast.id && is_it(r->yeast.id, r->yeast.of, id, true);
    for (size_t i = 0; i < r->malt_count; i++)
        in = in || is_it(r->malts[i].id, r->malts[i].of, id, true);
    for (size_t i = 0; i < r->hop_count; i++)
        in = in || is_it(r->hops[i].id, r->hops[i].of, id, true);
    return in;
}

/* What is left of a lot, kg; NaN: as much as there was. A lot of that very id stands before all
 * that are of that entry. */
static void limit_lots(struct wf_store *s, const char *id, double kg)
{
    bool by_entry = !wf_store_malt(s, id) && !wf_store_hop(s, id) && !wf_store_yeast(s, id);
    for (size_t i = 0; i < s->malt_count; i++)
        if (is_it(s->malts[i].id, s->malts[i].of, id, by_entry))
            s->malts[i].have_kg = fmin(s->malts[i].have_kg, kg);
    for (size_t i = 0; i < s->hop_count; i++)
        if (is_it(s->hops[i].id, s->hops[i].of, id, by_entry))
            s->hops[i].have_g = fmin(s->hops[i].have_g, 1000 * kg);
    for (size_t i = 0; i < s->yeast_count && !(kg > 0); i++)
        if (is_it(s->yeasts[i].id, s->yeasts[i].of, id, by_entry))
            s->yeasts[i].have = 0;
}

static enum wf_status take_without(const char *const *ids, const struct wf_revise_inputs *in,
                                   struct wf_error *e)
{
    for (; ids && *ids; ids++) {
        if (!in_recipe(in->recipe, *ids))
            return not_in_recipe("without", *ids, in->recipe, e);
        limit_lots(in->store, *ids, 0);
    }
    return WF_OK;
}

/* "200 g vienna-malt": the id is the last word. */
static enum wf_status take_share(const char *text, const struct wf_revise_inputs *in,
                                 struct wf_error *e)
{
    char weight[ID_MOST], why[WF_REASON_MAX];
    const char *id = strrchr(text, ' ');
    size_t length = id ? (size_t)(id - text) : 0;
    double kg;
    if (length == 0 || length >= sizeof weight)
        return wf_error_add(e, WF_USAGE,
                            "option --share: '%s' is not a weight and an id: write \"200 g "
                            "vienna-malt\"",
                            text);
    memcpy(weight, text, length);
    weight[length] = '\0';
    if (!wf_quantity_parse(WF_DIM_MASS, weight, &kg, why))
        return wf_error_add(e, WF_USAGE, "option --share: '%s' %s", weight, why);
    if (!in_recipe(in->recipe, id + 1))
        return not_in_recipe("share", id + 1, in->recipe, e);
    limit_lots(in->store, id + 1, kg);
    return WF_OK;
}

static enum wf_status take_shares(const char *const *texts, const struct wf_revise_inputs *in,
                                  struct wf_error *e)
{
    for (; texts && *texts; texts++)
        WF_TRY(take_share(*texts, in, e));
    return WF_OK;
}

/* ---- The whole ------------------------------------------------------------------------------- */

static enum wf_status report(const struct wf_revised *found, const struct wf_revise_inputs *in,
                             const struct substitute_options *o, struct wf_text *out,
                             struct wf_error *e)
{
    struct wf_revision_report v = wf_revise_report(in, found->loose);
    struct wf_report_style style = wf_recipe_style(&o->revise.recipe);
    char *text = NULL;
    WF_TRY(o->revise.recipe.json ? wf_report_substitute_json(found->found, &v, &text, e)
                                 : wf_report_substitute_text(found->found, &v, &style, &text, e));
    wf_add_report(out, text);
    return WF_OK;
}

static enum wf_status search(const struct wf_revise_inputs *in, const struct wf_target *also,
                             const struct substitute_options *o, struct wf_text *out,
                             struct wf_error *e)
{
    struct wf_terminal_line line = {0};
    struct wf_solve_options s = wf_revise_search(&o->revise, &line);
    struct wf_revised found = {0};
    struct wf_revision v;
    wf_revision_none(&v);
    v.also = also;
    enum wf_status status = wf_recipe_revise(in->recipe, &v, in->store, &in->brewhouse, &s,
                                             (size_t)o->recipes - 1, &found, e);
    if (status == WF_OK)
        status = report(&found, in, o, out, e);
    status = wf_revise_conclude(in, status, &found, &s, &o->revise, out, e);
    wf_terminal_progress_end(&line);
    wf_revised_clear(&found);
    return status;
}

static enum wf_status check(const struct substitute_options *o, struct wf_error *e)
{
    if (!o->without && !o->share)
        return wf_error_add(e, WF_USAGE, "substitute what? give --without or --share");
    if (o->recipes != floor(o->recipes))
        return wf_error_add(e, WF_USAGE, "--recipes: needs a whole number: write --recipes 3");
    return WF_OK;
}

static enum wf_status run(const struct wf_call *call, struct wf_text *out, struct wf_error *e)
{
    const struct substitute_options *o = call->options;
    struct wf_revise_inputs in = {0};
    struct wf_target *also = NULL;
    enum wf_status status;
    WF_TRY_GOTO(check(o, e));
    WF_TRY_GOTO(wf_revise_inputs_read(&in, call->operands[0], &o->revise, e));
    WF_TRY_GOTO(take_without(o->without, &in, e));
    WF_TRY_GOTO(take_shares(o->share, &in, e));
    if (o->target)
        WF_TRY_GOTO(wf_target_find(o->target, in.in.catalogue, &also, e));
    status = search(&in, also, o, out, e);
done:
    wf_target_free(also);
    wf_revise_inputs_free(&in);
    return status;
}

const struct wf_command wf_command_substitute = {
    .name = "substitute",
    .operands = "RECIPE",
    .least = 1,
    .most = 1,
    .summary = "brew a recipe without a lot that has run out",
    .about = "Whole revised recipes, the nearest first, that keep gravity, colour, bitterness\n"
             "and character as they were. What no recipe holds is loosened, and told as lost.\n",
    .example = "wortfit substitute examples/last-autumn-amber.json --without cascade",
    .options = rows,
    .options_size = sizeof(struct substitute_options),
    .run = run,
};
