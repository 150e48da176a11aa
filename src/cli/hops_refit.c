/* hops_refit.c: see hops_refit.h. */
#include "cli/hops_refit.h"

#include "base/suggest.h"
#include "base/try.h"
#include "cli/terminal.h"

#include <math.h>
#include <string.h>

struct refit_inputs {
    struct wf_recipe_inputs in;
    struct wf_recipe *recipe;
    struct wf_refit_slots *slots;
    struct wf_brewhouse usual;
    struct wf_refit_alpha *alphas;
    size_t alpha_count;
};

static struct wf_recipe_options recipe_options(const struct wf_hops_options *o)
{
    return (struct wf_recipe_options){.store = o->store,
                                      .brewhouse = o->brewhouse,
                                      .units = o->list.units,
                                      .on = o->on,
                                      .json = o->list.json};
}

static enum wf_status check(const struct wf_hops_options *o, struct wf_error *e)
{
    if (o->origin || o->word.count > 0 || o->purpose.count > 0)
        return wf_error_add(e, WF_USAGE,
                            "--origin, --word and --for are for the list of hops, not for a "
                            "recipe");
    if (!wf_range_is_any(o->ratio) && !wf_range_is_any(o->bitterness))
        return wf_error_add(e, WF_USAGE, "--ratio and --bitterness: give one of them");
    if (o->schedule && o->change.picked[0] != WF_HOPS_CHANGE_EARLY)
        return wf_error_add(e, WF_USAGE,
                            "--schedule says by itself what may change: leave out --change");
    return WF_OK;
}

/* ---- Alpha acid on the bag ------------------------------------------------------------------- */

static enum wf_status refuse_hop(const struct wf_recipe *r, const struct wf_catalogue *c,
                                 const char *hop, struct wf_arena *arena, struct wf_error *e)
{
    const char **ids = wf_arena_alloc(arena, c->hop_count + r->hop_count, sizeof *ids);
    size_t count = 0;
    if (ids == NULL)
        return wf_error_add(e, WF_MEMORY, "out of memory");
    for (size_t i = 0; i < r->hop_count; i++)
        ids[count++] = r->hops[i].id;
    for (size_t i = 0; i < c->hop_count; i++)
        ids[count++] = c->hops[i].id;
    int near = wf_suggest(hop, ids, count);
    if (near < 0)
        return wf_error_add(e, WF_BAD_INPUT, "--alpha: no hop is called '%s'", hop);
    return wf_error_add(e, WF_BAD_INPUT, "--alpha: no hop is called '%s', did you mean '%s'?", hop,
                        ids[near]);
}

static bool is_known(const struct refit_inputs *in, const char *hop)
{
    for (size_t i = 0; i < in->recipe->hop_count; i++)
        if (strcmp(in->recipe->hops[i].id, hop) == 0)
            return true;
    return wf_store_hop(in->in.store, hop) != NULL ||
           wf_catalogue_hop(in->in.catalogue, hop) != NULL;
}

/* "cascade=5.2%" */
static enum wf_status read_alpha(const struct refit_inputs *in, const char *text,
                                 struct wf_arena *arena, struct wf_refit_alpha *out,
                                 struct wf_error *e)
{
    const char *equals = strchr(text, '=');
    char why[WF_REASON_MAX];
    if (equals == NULL || equals == text || *text == '<' || *text == '>')
        return wf_error_add(e, WF_USAGE,
                            "option --alpha: '%s' names no hop of the recipe: write \"cascade=5.2 "
                            "%%\"",
                            text);
    char *hop = wf_arena_copy(arena, text, (size_t)(equals - text));
    if (hop == NULL)
        return wf_error_add(e, WF_MEMORY, "out of memory");
    if (!wf_quantity_parse(WF_DIM_SHARE, equals + 1, &out->alpha, why))
        return wf_error_add(e, WF_USAGE, "option --alpha: '%s' %s", equals + 1, why);
    if (!(out->alpha >= 0.001 && out->alpha <= 0.3))
        return wf_error_add(e, WF_USAGE, "option --alpha: '%s' is outside 0.1 %% to 30 %%",
                            equals + 1);
    if (!is_known(in, hop))
        return refuse_hop(in->recipe, in->in.catalogue, hop, arena, e);
    out->hop = hop;
    return WF_OK;
}

static enum wf_status read_alphas(struct refit_inputs *in, const struct wf_call *call,
                                  struct wf_error *e)
{
    const struct wf_hops_options *o = call->options;
    size_t count = 0;
    while (o->alphas && o->alphas[count])
        count++;
    in->alphas = wf_arena_alloc(call->arena, count, sizeof *in->alphas);
    if (in->alphas == NULL)
        return wf_error_add(e, WF_MEMORY, "out of memory");
    for (; in->alpha_count < count; in->alpha_count++)
        WF_TRY(read_alpha(in, o->alphas[in->alpha_count], call->arena, &in->alphas[in->alpha_count],
                          e));
    return WF_OK;
}

/* ---- The whole ------------------------------------------------------------------------------- */

static enum wf_status read_inputs(struct refit_inputs *in, const struct wf_call *call,
                                  struct wf_error *e)
{
    const struct wf_hops_options *o = call->options;
    struct wf_recipe_options r = recipe_options(o);
    if (o->schedule)
        WF_TRY(wf_refit_slots_parse(o->schedule, &in->slots, e));
    WF_TRY(wf_recipe_inputs_read(&in->in, &r, e));
    WF_TRY(wf_recipe_inputs_recipe(&in->in, call->operands[0], in->in.brewhouse, &in->recipe, e));
    wf_brewhouse_default(wf_recipe_style(&r).units, &in->usual);
    return read_alphas(in, call, e);
}

/* A recipe so strong that the laws do not cover all brews of it is shown without ranges. */
static enum wf_status add_ranges(struct wf_recipe *r, const struct wf_spread *spread,
                                 struct wf_error *e)
{
    struct wf_error none = {0};
    enum wf_status status = wf_recipe_add_ranges(r, NULL, spread, WF_SURE_PROBABILITY, &none);
    return status == WF_OK || status == WF_OUT_OF_RANGE ? WF_OK
                                                        : wf_error_add(e, status, "%s", none.text);
}

static enum wf_status refit(const struct refit_inputs *in, const struct wf_hops_options *o,
                            struct wf_text *out, struct wf_error *e)
{
    const struct wf_refit_options how = {
        .ratio = o->ratio,
        .bitterness = o->bitterness,
        .alphas = in->alphas,
        .alpha_count = in->alpha_count,
        .slots = in->slots,
        .all = o->change.picked[0] == WF_HOPS_CHANGE_ALL,
        .store = in->in.store,
        .catalogue = in->in.catalogue,
        .brewhouse = in->in.brewhouse ? in->in.brewhouse : &in->usual,
    };
    struct wf_recipe_options r = recipe_options(o);
    struct wf_report_style style = wf_recipe_style(&r);
    struct wf_refit *f = NULL;
    char *text = NULL;
    WF_TRY(wf_recipe_refit(in->recipe, &how, &f, e));
    enum wf_status status = add_ranges(f->recipe, &how.brewhouse->spread, e);
    if (status == WF_OK)
        status = o->list.json ? wf_report_recipe_json(f->recipe, &text, e)
                              : wf_report_refit_text(in->recipe, f, &style, &text, e);
    wf_refit_free(f);
    wf_add_report(out, text);
    return status;
}

enum wf_status wf_hops_refit(const struct wf_call *call, struct wf_text *out, struct wf_error *e)
{
    struct refit_inputs in = {0};
    enum wf_status status;
    WF_TRY_GOTO(check(call->options, e));
    WF_TRY_GOTO(read_inputs(&in, call, e));
    status = refit(&in, call->options, out, e);
done:
    wf_refit_slots_free(in.slots);
    wf_recipe_free(in.recipe);
    wf_recipe_inputs_free(&in.in);
    return status;
}
