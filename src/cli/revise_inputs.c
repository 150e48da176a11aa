/* revise_inputs.c: see revise_inputs.h. */
#include "cli/revise_inputs.h"

#include "base/try.h"
#include "cli/today.h"

#include <math.h>

/* The recipe's own system, or the one given; small amounts that it has may stay. */
static void set_brewhouse(struct wf_revise_inputs *r, enum wf_units units)
{
    const struct wf_recipe *recipe = r->recipe;
    struct wf_brewhouse *b = &r->brewhouse;
    wf_brewhouse_default(units, b);
    if (r->in.brewhouse)
        *b = *r->in.brewhouse;
    b->arena = NULL; /* not its own */
    b->batch_l = recipe->kettle.batch_l;
    b->boil_minutes = recipe->kettle.boil_minutes;
    b->batch_given = b->boil_given = true;
    b->efficiency = recipe->kettle.efficiency;
    b->evaporation_l_h = recipe->kettle.evaporation_l_h;
    b->law = recipe->kettle.law;
    for (size_t i = 0; i < recipe->malt_count; i++)
        if (recipe->malts[i].kg > 0)
            b->least_malt_kg = fmin(b->least_malt_kg, recipe->malts[i].kg);
    for (size_t i = 0; i < recipe->hop_count; i++)
        if (recipe->hops[i].grams > 0)
            b->least_hop_g = fmin(b->least_hop_g, recipe->hops[i].grams);
}

/* A recipe that names no yeast is revised without one. */
static enum wf_status set_store(struct wf_revise_inputs *r, struct wf_error *e)
{
    if (r->in.store) {
        r->store = r->in.store;
        if (!r->recipe->yeast.id)
            r->store->yeast_count = 0;
        return WF_OK;
    }
    WF_TRY(wf_store_sample(r->in.catalogue, &r->shop, e));
    WF_TRY(wf_recipe_lots(r->recipe, r->shop, &r->lots, e));
    r->store = r->lots;
    return WF_OK;
}

enum wf_status wf_revise_inputs_read(struct wf_revise_inputs *r, const char *path,
                                     const struct wf_revise_options *o, struct wf_error *e)
{
    WF_TRY(wf_recipe_inputs_read(&r->in, &o->recipe, e));
    WF_TRY(wf_recipe_inputs_recipe(&r->in, path, r->in.brewhouse, &r->recipe, e));
    set_brewhouse(r, wf_recipe_style(&o->recipe).units);
    return set_store(r, e);
}

void wf_revise_inputs_free(struct wf_revise_inputs *r)
{
    wf_store_free(r->lots);
    wf_store_free(r->shop);
    wf_recipe_free(r->recipe);
    wf_recipe_inputs_free(&r->in);
}

struct wf_solve_options wf_revise_search(const struct wf_revise_options *o,
                                         struct wf_terminal_line *line)
{
    return (struct wf_solve_options){.seconds = isnan(o->time) ? 0 : 60 * o->time,
                                     .today = o->recipe.on >= 0 ? o->recipe.on : wf_today(),
                                     .cancel = wf_terminal_watch(),
                                     .progress = wf_terminal_progress,
                                     .progress_data = line};
}

struct wf_revision_report wf_revise_report(const struct wf_revise_inputs *r, double loose)
{
    return (struct wf_revision_report){.from = r->recipe, .loose = loose, .shop = r->lots != NULL};
}

/* What a store lacks may be got from the sample shop; without a store it is in it already. */
static enum wf_status find_reasons(const struct wf_revise_inputs *r, const struct wf_target *t,
                                   const struct wf_solve_options *search, enum wf_units units,
                                   struct wf_reasons **out, struct wf_error *e)
{
    struct wf_store *shop = NULL;
    if (!r->lots)
        WF_TRY(wf_store_sample(r->in.catalogue, &shop, e));
    enum wf_status status =
        wf_solve_reasons(t, r->store, shop, &r->brewhouse, search, units, out, e);
    wf_store_free(shop);
    return status;
}

static enum wf_status report_none(const struct wf_revise_inputs *r, const struct wf_revised *found,
                                  const struct wf_solve_options *search,
                                  const struct wf_revise_options *o, struct wf_text *out,
                                  struct wf_error *e)
{
    struct wf_report_style style = wf_recipe_style(&o->recipe);
    const struct wf_recipe *nearest = found->found ? found->found->list[0].recipe : NULL;
    struct wf_reasons *why = NULL;
    char *text = NULL;
    enum wf_status status;
    WF_TRY_GOTO(find_reasons(r, found->target, search, style.units, &why, e));
    WF_TRY_GOTO(o->recipe.json ? wf_report_none_json(why, nearest, &text, e)
                               : wf_report_none_text(why, nearest, &style, &text, e));
    wf_add_report(out, text);
done:
    wf_reasons_free(why);
    return status;
}

enum wf_status wf_revise_conclude(const struct wf_revise_inputs *r, enum wf_status status,
                                  const struct wf_revised *found,
                                  const struct wf_solve_options *search,
                                  const struct wf_revise_options *o, struct wf_text *out,
                                  struct wf_error *e)
{
    struct wf_error why = {0}; /* apart: that there is no recipe is no failure of the report */
    if (status != WF_NO_RECIPE)
        return status;
    enum wf_status reported = report_none(r, found, search, o, out, &why);
    return reported == WF_OK ? status : wf_error_add(e, reported, "%s", why.text);
}
