/* cmd_adjust.c: wortfit adjust RECIPE. The arguments change what is wished, all else is held. */
#include "cli/more_less.h"
#include "cli/revise_inputs.h"
#include "cli/swap.h"

#include "base/try.h"
#include "cli/ids.h"
#include "cli/lister.h" /* wf_unit_words */

#include <math.h>
#include <string.h>

struct adjust_options {
    struct wf_revise_options revise;
    struct wf_range og, colour, ratio, bitterness, fg, abv;
    const char *const *more, *const *less, *const *swap, *const *use, *const *avoid;
    const char *target;
};

#define AT(member) .offset = offsetof(struct adjust_options, member)

/* clang-format off */
static const struct wf_option rows[] = {
    {.name = "more", .word = "WORD", .kind = WF_OPTION_TEXTS, AT(more),
     .text = "a bit more toast; or \"toast by 50 %\" (may be repeated)"},
    {.name = "less", .word = "WORD", .kind = WF_OPTION_TEXTS, AT(less),
     .text = "a bit less; bitterness, strength and colour too"},
    {.name = "og", .word = "RANGE", .kind = WF_OPTION_RANGE, AT(og),
     .dimension = WF_DIM_GRAVITY, .tolerance = WF_TOLERANCE_GRAVITY,
     .text = "original gravity: 1.055, 1.050..1.060"},
    {.name = "fg", .word = "RANGE", .kind = WF_OPTION_RANGE, AT(fg),
     .dimension = WF_DIM_GRAVITY, .tolerance = WF_TOLERANCE_GRAVITY,
     .text = "final gravity"},
    {.name = "abv", .word = "RANGE", .kind = WF_OPTION_RANGE, AT(abv),
     .dimension = WF_DIM_SHARE, .tolerance = WF_TOLERANCE_ABV, .text = "alcohol: \"5 %\""},
    WF_ROW_COLOUR(AT(colour)),
    WF_ROW_RATIO(AT(ratio)),
    WF_ROW_BITTERNESS(AT(bitterness)),
    {.name = "swap", .word = "SWAP", .kind = WF_OPTION_TEXTS, AT(swap),
     .text = "first \"200 g vienna-malt for munich-malt-light\""},
    WF_ROW_USE(AT(use)),
    WF_ROW_AVOID(AT(avoid)),
    {.name = "target", .word = "TARGET", .kind = WF_OPTION_TEXT, AT(target),
     .text = "the rules of this beer hold too"},
    WF_RECIPE_OPTIONS_OF(struct wf_revise_options, "lots to take from (the recipe's own and the sample shop)", "the system that it is brewed on (the recipe's)"),
    WF_REVISE_TIME_OPTION,
    {.kind = WF_OPTION_END},
};
/* clang-format on */

struct work {
    const struct wf_call *call;
    const struct adjust_options *o;
    struct wf_revise_inputs in;
    struct wf_recipe *base; /* the recipe, with what was swapped */
    struct wf_target *also;
    struct wf_revision v;
    bool wished; /* more than a swap */
    struct wf_text *out;
    struct wf_error *e;
};

/* ---- What is wished -------------------------------------------------------------------------- */

/* The aim of what is asked is not one that is held: only its ends count. */
static void ask(struct work *w, struct wf_range *to, struct wf_range from)
{
    if (wf_range_is_any(from))
        return;
    *to = (struct wf_range){from.low, from.high, (double)NAN};
    w->wished = true;
}

static enum wf_status ask_words(struct work *w, const char *option, const char *const *texts,
                                int sign)
{
    for (; texts && *texts; texts++) {
        WF_TRY(wf_more_less_parse(option, *texts, sign, w->base, &w->v, w->e));
        w->wished = true;
    }
    return WF_OK;
}

static enum wf_status check_bitterness(struct work *w)
{
    const struct adjust_options *o = w->o;
    if (!wf_range_is_any(o->ratio) && !wf_range_is_any(o->bitterness))
        return wf_error_add(w->e, WF_USAGE, "--ratio and --bitterness: give one of them");
    return WF_OK;
}

static enum wf_status ask_ids(struct work *w)
{
    const struct adjust_options *o = w->o;
    for (const char *const *u = o->use; u && *u; u++)
        if (wf_ids_have(o->avoid, *u))
            return wf_error_add(w->e, WF_USAGE, "'%s' is both in --use and in --avoid", *u);
    WF_TRY(wf_ids_check(o->use, o->avoid, NULL, w->in.in.catalogue, w->in.store, w->e));
    w->wished = w->wished || o->use || o->avoid || o->target;
    w->v.use = o->use;
    w->v.avoid = o->avoid;
    if (!o->target)
        return WF_OK;
    WF_TRY(wf_target_find(o->target, w->in.in.catalogue, &w->also, w->e));
    w->v.also = w->also;
    return WF_OK;
}

static enum wf_status ask_all(struct work *w)
{
    const struct adjust_options *o = w->o;
    wf_revision_none(&w->v);
    ask(w, &w->v.og, o->og);
    ask(w, &w->v.fg, o->fg);
    ask(w, &w->v.abv, o->abv);
    ask(w, &w->v.colour, o->colour);
    ask(w, &w->v.ratio, o->ratio);
    ask(w, &w->v.bitterness, o->bitterness);
    WF_TRY(ask_words(w, "more", o->more, 1));
    WF_TRY(ask_words(w, "less", o->less, -1));
    if (!wf_range_is_any(w->v.ratio) && !wf_range_is_any(w->v.bitterness))
        return wf_error_add(w->e, WF_USAGE,
                            "--ratio and more or less bitterness: give one of them");
    WF_TRY(ask_ids(w));
    if (!w->wished && !o->swap)
        return wf_error_add(w->e, WF_USAGE,
                            "adjust what? give --more, --less, --swap, --use, --avoid or a "
                            "figure such as --og");
    return WF_OK;
}

/* ---- Swaps ----------------------------------------------------------------------------------- */

/* A copy of the recipe, by its file. */
static enum wf_status copy(struct work *w)
{
    char *text = NULL;
    WF_TRY(wf_report_recipe_json(w->in.recipe, &text, w->e));
    enum wf_status status = wf_recipe_parse(w->call->operands[0], text, strlen(text),
                                            w->in.in.store, w->in.in.catalogue, &w->base, w->e);
    wf_text_release(text);
    return status;
}

static enum wf_status swap_all(struct work *w)
{
    WF_TRY(copy(w));
    for (const char *const *text = w->o->swap; text && *text; text++)
        WF_TRY(wf_swap(*text, w->base, w->in.in.store, w->in.in.catalogue, w->e));
    WF_TRY(wf_recipe_check(w->base, NULL, w->in.in.catalogue, w->in.brewhouse.step_hop_g, w->e));
    return w->in.store ? wf_recipe_price(w->base, w->in.store, w->e) : WF_OK;
}

/* ---- The whole ------------------------------------------------------------------------------- */

static enum wf_status report(struct work *w, const struct wf_recipe *r, double loose)
{
    struct wf_revision_report v = wf_revise_report(&w->in, loose);
    struct wf_report_style style = wf_recipe_style(&w->o->revise.recipe);
    char *text = NULL;
    v.base = w->o->swap ? w->base : NULL;
    WF_TRY(w->o->revise.recipe.json ? wf_report_adjust_json(r, &v, &text, w->e)
                                    : wf_report_adjust_text(r, &v, &style, &text, w->e));
    wf_add_report(w->out, text);
    return WF_OK;
}

static enum wf_status search(struct work *w)
{
    struct wf_terminal_line line = {0};
    struct wf_solve_options o = wf_revise_search(&w->o->revise, &line);
    struct wf_revised found = {0};
    enum wf_status status =
        wf_recipe_revise(w->base, &w->v, w->in.store, &w->in.brewhouse, &o, 0, &found, w->e);
    if (status == WF_OK)
        status = report(w, found.found->list[0].recipe, found.loose);
    status = wf_revise_conclude(&w->in, status, &found, &o, &w->o->revise, w->out, w->e);
    wf_terminal_progress_end(&line);
    wf_revised_clear(&found);
    return status;
}

static enum wf_status run(const struct wf_call *call, struct wf_text *out, struct wf_error *e)
{
    struct work w = {.call = call, .o = call->options, .out = out, .e = e};
    enum wf_status status;
    WF_TRY_GOTO(check_bitterness(&w));
    WF_TRY_GOTO(wf_revise_inputs_read(&w.in, call->operands[0], &w.o->revise, e));
    WF_TRY_GOTO(swap_all(&w));
    WF_TRY_GOTO(ask_all(&w));
    status = w.wished ? search(&w) : report(&w, w.base, 1);
done:
    wf_target_free(w.also);
    wf_recipe_free(w.base);
    wf_revise_inputs_free(&w.in);
    return status;
}

const struct wf_command wf_command_adjust = {
    .name = "adjust",
    .operands = "RECIPE",
    .least = 1,
    .most = 1,
    .summary = "change a recipe as little as possible so that it is as wished",
    .about = "All that is not asked for is held: gravity, colour, bitterness, character. A bit\n"
             "is 0.5 of a word (see 'wortfit words'), 5 IBU, 5 points of strength, 2 SRM.\n"
             "With --json it is a recipe again.\n",
    .example = "wortfit adjust examples/last-autumn-amber.json --more toast --og 1.058",
    .options = rows,
    .options_size = sizeof(struct adjust_options),
    .run = run,
};
