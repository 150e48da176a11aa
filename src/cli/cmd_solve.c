/* cmd_solve.c: wortfit solve TARGET. The arguments change the target, the library does the rest. */
#include "cli/command.h"
#include "cli/option_rows.h"

#include "base/file.h"
#include "base/try.h"
#include "cli/ids.h"
#include "cli/lister.h"
#include "cli/terminal.h"
#include "cli/today.h"
#include "wortfit/wortfit.h"

#include <math.h>
#include <string.h>

struct solve_options {
    const char *store, *brewhouse, *write_model;
    struct wf_range og, colour, ratio, bitterness;
    double batch, time, alternatives; /* L, min, a number */
    double sure;                      /* probability */
    const char *const *yeasts, *const *use, *const *avoid;
    struct wf_choices goals, units, trade;
    long on;
    bool json, worth;
};

static const char *const goal_words[] = {
#define WF_X(id, word, text) word,
    WF_GOAL_LIST(WF_X)
#undef WF_X
        NULL,
};

#define AT(member) .offset = offsetof(struct solve_options, member)

/* A row is two or three lines. */
/* clang-format off */
static const struct wf_option rows[] = {
    {.name = "store", .word = "FILE", .kind = WF_OPTION_TEXT, AT(store),
     .text = "what there is to brew from (the sample shop)"},
    {.name = "brewhouse", .word = "FILE", .kind = WF_OPTION_TEXT, AT(brewhouse),
     .text = "what it is brewed on (20 L, 75 %)"},
    {.name = "batch", .word = "VOLUME", .kind = WF_OPTION_QUANTITY, AT(batch),
     .dimension = WF_DIM_VOLUME, .least = 0.5, .most = 10000, .limits = "0.5 L to 10000 L",
     .without_end = "largest", .text = "wort after the boil; or largest: what the store makes"},
    {.name = "og", .word = "RANGE", .kind = WF_OPTION_RANGE, AT(og),
     .dimension = WF_DIM_GRAVITY, .tolerance = WF_TOLERANCE_GRAVITY,
     .text = "original gravity: 1.055, 1.050..1.060, \"<= 1.060\""},
    WF_ROW_COLOUR(AT(colour)),
    WF_ROW_RATIO(AT(ratio)),
    WF_ROW_BITTERNESS(AT(bitterness)),
    {.name = "yeast", .word = "ID", .kind = WF_OPTION_TEXTS, AT(yeasts),
     .text = "ferment with this yeast or family (may be repeated)"},
    WF_ROW_USE(AT(use)),
    WF_ROW_AVOID(AT(avoid)),
    {.name = "goal", .word = "LIST", .kind = WF_OPTION_CHOICES, AT(goals), .words = goal_words,
     .many = true, .preset = "cost", .text = "cost, fewest, closest, use-up, in this order"},
    {.name = "sure", .word = "SHARE", .kind = WF_OPTION_QUANTITY, AT(sure),
     .dimension = WF_DIM_SHARE, .least = 0.2, .most = 0.99, .limits = "20 % to 99 %",
     .text = "so many brews of 100 are to be as wished: \"90 %\""},
    {.name = "worth", .kind = WF_OPTION_FLAG, AT(worth),
     .text = "tell what binds, and what a notch of each would save"},
    {.name = "alternatives", .word = "N", .kind = WF_OPTION_QUANTITY, AT(alternatives),
     .dimension = WF_DIM_NUMBER, .least = 1, .most = WF_ALTERNATIVES_MOST, .limits = "1 to 50",
     .text = "so many more recipes, each unlike those before it"},
    {.name = "trade", .word = "LIST", .kind = WF_OPTION_CHOICES, AT(trade), .words = goal_words,
     .many = true, .text = "cost,fewest: the least cost by number of ingredients"},
    WF_ROW_TIME(AT(time)),
    WF_ROW_ON(AT(on)),
    WF_ROW_UNITS(AT(units)),
    WF_ROW_JSON(AT(json), "the recipe as a file for programs"),
    {.name = "write-model", .word = "FILE", .kind = WF_OPTION_TEXT, AT(write_model),
     .text = "also write the integer model, CPLEX LP"},
    {.kind = WF_OPTION_END},
};
/* clang-format on */

#define LEAST_SECONDS 0.2 /* of a time that was set, for the reasons */

/* All that a solve reads. */
struct inputs {
    struct wf_catalogue *catalogue;
    struct wf_target *target;
    struct wf_store *store;
    struct wf_brewhouse *brewhouse;
    struct wf_brewhouse plain; /* the default one */
};

static void inputs_free(struct inputs *in)
{
    if (in->brewhouse != &in->plain)
        wf_brewhouse_free(in->brewhouse);
    wf_store_free(in->store);
    wf_target_free(in->target);
    wf_catalogue_free(in->catalogue);
}

static enum wf_units units_of(const struct solve_options *o)
{
    return (enum wf_units)o->units.picked[0];
}

static enum wf_status read_inputs(struct inputs *in, const char *target,
                                  const struct solve_options *o, struct wf_error *e)
{
    WF_TRY(wf_catalogue_read(&in->catalogue, e));
    WF_TRY(wf_target_find(target, in->catalogue, &in->target, e));
    if (o->store)
        WF_TRY(wf_store_read(o->store, in->catalogue, &in->store, e));
    else
        WF_TRY(wf_store_sample(in->catalogue, &in->store, e));
    if (o->brewhouse)
        return wf_brewhouse_read(o->brewhouse, units_of(o), &in->brewhouse, e);
    wf_brewhouse_default(units_of(o), &in->plain);
    in->brewhouse = &in->plain;
    return WF_OK;
}

/* ---- What the command line changes ----------------------------------------------------------- */

/* One of the options that look for other recipes than the best, and only what they can do. */
static enum wf_status check_several(const struct solve_options *o, struct wf_error *e)
{
    bool trade = o->trade.count > 0, several = !isnan(o->alternatives);
    int both = 1 << WF_GOAL_COST | 1 << WF_GOAL_FEWEST, traded = 0;
    for (size_t i = 0; i < o->trade.count; i++)
        traded |= 1 << o->trade.picked[i];
    if (trade && traded != both)
        return wf_error_add(e, WF_USAGE,
                            "--trade: cost can be traded against fewest and nothing else: write "
                            "--trade cost,fewest");
    if (trade && (o->goals.count != 1 || o->goals.picked[0] != WF_GOAL_COST))
        return wf_error_add(e, WF_USAGE, "--trade and --goal: give one of them");
    if (trade + several + o->worth + !isnan(o->sure) > 1)
        return wf_error_add(e, WF_USAGE,
                            "--alternatives, --trade, --worth and --sure: give one of them");
    if (several && o->alternatives != floor(o->alternatives))
        return wf_error_add(e, WF_USAGE,
                            "--alternatives: needs a whole number: write "
                            "--alternatives 5");
    return WF_OK;
}

static enum wf_status check(const struct solve_options *o, struct wf_error *e)
{
    if (!wf_range_is_any(o->ratio) && !wf_range_is_any(o->bitterness))
        return wf_error_add(e, WF_USAGE, "--ratio and --bitterness: give one of them");
    WF_TRY(check_several(o, e));
    for (const char *const *u = o->use; u && *u; u++)
        if (wf_ids_have(o->avoid, *u))
            return wf_error_add(e, WF_USAGE, "'%s' is both in --use and in --avoid", *u);
    return WF_OK;
}

static void override_batch(struct inputs *in, double litres)
{
    in->target->batch_l = in->brewhouse->batch_l = litres;
    in->brewhouse->batch_given = true;
}

/* --batch largest. Where no batch has a recipe, the usual one stands, and the solve says why. */
static enum wf_status override_with_largest(struct inputs *in, const struct solve_options *o,
                                            const struct wf_solve_options *search,
                                            struct wf_error *e)
{
    static const double step[] = {[WF_UNITS_METRIC] = 0.5, [WF_UNITS_US] = 0.1 * WF_L_PER_US_GAL};
    double litres;
    if (!isinf(o->batch))
        return WF_OK;
    WF_TRY(wf_solve_largest(in->target, in->store, in->brewhouse, search, step[units_of(o)],
                            &litres, e));
    if (!isnan(litres))
        override_batch(in, litres);
    return WF_OK;
}

static void override_figures(struct inputs *in, const struct solve_options *o)
{
    struct wf_target *t = in->target;
    if (!wf_range_is_any(o->og))
        t->og = o->og;
    if (!wf_range_is_any(o->colour))
        t->colour = o->colour;
    if (!wf_range_is_any(o->ratio) || !wf_range_is_any(o->bitterness)) {
        t->ratio = o->ratio;
        t->bitterness = o->bitterness;
    }
    if (isfinite(o->batch))
        override_batch(in, o->batch);
}

static enum wf_status override_ids(struct inputs *in, const struct solve_options *o,
                                   struct wf_arena *arena, struct wf_error *e)
{
    struct wf_target *t = in->target;
    WF_TRY(wf_ids_check(o->use, o->avoid, o->yeasts, in->catalogue, in->store, e));
    if (o->yeasts)
        t->yeasts = o->yeasts;
    WF_TRY(wf_ids_join(t->use, o->use, o->avoid, arena, &t->use, e));
    return wf_ids_join(t->avoid, o->avoid, o->use, arena, &t->avoid, e);
}

/* ---- Solve ----------------------------------------------------------------------------------- */

static struct wf_solve_options search_options(const struct solve_options *o,
                                              struct wf_terminal_line *line)
{
    struct wf_solve_options s = {.goal_count = o->goals.count,
                                 .seconds = 60 * o->time,
                                 .today = o->on >= 0 ? o->on : wf_today(),
                                 .cancel = wf_terminal_watch(),
                                 .progress = wf_terminal_progress,
                                 .progress_data = line};
    for (size_t i = 0; i < o->goals.count; i++)
        s.goals[i] = (enum wf_goal)o->goals.picked[i];
    return s;
}

static enum wf_status write_model(const struct inputs *in, const struct wf_solve_options *s,
                                  const char *path, struct wf_error *e)
{
    char *text = NULL;
    WF_TRY(wf_solve_model_text(in->target, in->store, in->brewhouse, s, &text, e));
    enum wf_status status = wf_file_write(path, text, strlen(text), e);
    wf_text_release(text);
    return status;
}

static enum wf_status find(const struct inputs *in, const struct solve_options *o,
                           const struct wf_solve_options *search, struct wf_recipe **out,
                           struct wf_error *e)
{
    if (isnan(o->sure))
        return wf_solve(in->target, in->store, in->brewhouse, search, out, e);
    return wf_solve_sure(in->target, in->store, in->brewhouse, search, o->sure, out, e);
}

/* A recipe so strong that the laws do not cover all brews of it is shown without ranges. */
static enum wf_status add_ranges(const struct inputs *in, struct wf_recipe *r, struct wf_error *e)
{
    struct wf_error none = {0};
    enum wf_status status = WF_OK;
    if (!r->ranges)
        status =
            wf_recipe_add_ranges(r, in->target, &in->brewhouse->spread, WF_SURE_PROBABILITY, &none);
    return status == WF_OK || status == WF_OUT_OF_RANGE ? WF_OK
                                                        : wf_error_add(e, status, "%s", none.text);
}

/* What a store lacks is looked for in the sample shop. */
static enum wf_status add_worth(const struct inputs *in, const struct solve_options *o,
                                const struct wf_solve_options *search, struct wf_recipe *r,
                                struct wf_error *e)
{
    struct wf_store *shop = NULL;
    if (o->store)
        WF_TRY(wf_store_sample(in->catalogue, &shop, e));
    enum wf_status status =
        wf_recipe_add_worth(r, in->target, in->store, in->brewhouse, search, shop, e);
    wf_store_free(shop);
    return status;
}

/* ---- Reports --------------------------------------------------------------------------------- */

/* Adds a report to what is printed. */
static void print(struct wf_text *out, char *text)
{
    wf_text_append(out, text, strlen(text));
    wf_text_release(text);
}

static struct wf_report_style style_of(const struct solve_options *o)
{
    return (struct wf_report_style){units_of(o), wf_terminal_colour()};
}

static enum wf_status report(const struct inputs *in, struct wf_recipe *r,
                             const struct solve_options *o, struct wf_text *out, struct wf_error *e)
{
    char *text = NULL;
    struct wf_report_style style = style_of(o);
    WF_TRY(add_ranges(in, r, e));
    WF_TRY(o->json ? wf_report_recipe_json(r, &text, e)
                   : wf_report_recipe_text(r, &style, &text, e));
    print(out, text);
    return WF_OK;
}

/* ---- No recipe ------------------------------------------------------------------------------- */

/* Why; what the store lacks may be got from the sample shop. Of a time that was set, what is left.
 */
static enum wf_status find_reasons(const struct inputs *in, const struct solve_options *o,
                                   const struct wf_solve_options *search,
                                   const struct wf_recipe *nearest, struct wf_reasons **out,
                                   struct wf_error *e)
{
    struct wf_solve_options left = *search;
    struct wf_store *shop = NULL;
    if (left.seconds > 0 && nearest)
        left.seconds = fmax(LEAST_SECONDS, left.seconds - nearest->seconds);
    if (o->store)
        WF_TRY(wf_store_sample(in->catalogue, &shop, e));
    enum wf_status status =
        wf_solve_reasons(in->target, in->store, shop, in->brewhouse, &left, units_of(o), out, e);
    wf_store_free(shop);
    return status;
}

/* What was asked for, of which no recipe was found, need not be the target alone: without a reason
 * the nearest recipe is shown as it is. */
static enum wf_status report_none(const struct inputs *in, const struct solve_options *o,
                                  const struct wf_solve_options *search, struct wf_recipe *nearest,
                                  struct wf_text *out, struct wf_error *e)
{
    struct wf_reasons *why = NULL;
    struct wf_report_style style = style_of(o);
    char *text = NULL;
    enum wf_status status;
    WF_TRY_GOTO(find_reasons(in, o, search, nearest, &why, e));
    if (nearest)
        WF_TRY_GOTO(add_ranges(in, nearest, e));
    if (nearest && why->conflict_count == 0 && why->complete) {
        status = report(in, nearest, o, out, e);
        goto done;
    }
    WF_TRY_GOTO(o->json ? wf_report_none_json(why, nearest, &text, e)
                        : wf_report_none_text(why, nearest, &style, &text, e));
    print(out, text);
done:
    wf_reasons_free(why);
    return status;
}

/* The end of a search: what it found is reported by now, or else is the nearest recipe, or nothing.
 */
static enum wf_status conclude(const struct inputs *in, const struct solve_options *o,
                               const struct wf_solve_options *search, enum wf_status status,
                               struct wf_recipe *nearest, struct wf_text *out, struct wf_error *e)
{
    struct wf_error why = {0};
    if (status != WF_NO_RECIPE)
        return status;
    enum wf_status reported = report_none(in, o, search, nearest, out, &why);
    return reported == WF_OK ? status : wf_error_add(e, reported, "%s", why.text);
}

/* ---- One recipe, or several ------------------------------------------------------------------ */

static enum wf_status solve_one(const struct inputs *in, const struct solve_options *o,
                                const struct wf_solve_options *search, struct wf_text *out,
                                struct wf_error *e)
{
    struct wf_recipe *recipe = NULL;
    enum wf_status status = find(in, o, search, &recipe, e);
    if (status == WF_OK && o->worth)
        status = add_worth(in, o, search, recipe, e);
    if (status == WF_OK)
        status = report(in, recipe, o, out, e);
    status = conclude(in, o, search, status, recipe, out, e);
    wf_recipe_free(recipe);
    return status;
}

static enum wf_status report_alternatives(const struct inputs *in, const struct solve_options *o,
                                          const struct wf_alternatives *a, struct wf_text *out,
                                          struct wf_error *e)
{
    struct wf_report_style style = style_of(o);
    char *text = NULL;
    for (size_t i = 0; i < a->count; i++)
        WF_TRY(add_ranges(in, a->list[i].recipe, e));
    WF_TRY(o->json ? wf_report_alternatives_json(a, &text, e)
                   : wf_report_alternatives_text(a, &style, &text, e));
    print(out, text);
    return WF_OK;
}

/* Where there is no recipe, that is reported as if one alone had been looked for. */
static enum wf_status solve_alternatives(const struct inputs *in, const struct solve_options *o,
                                         const struct wf_solve_options *search, struct wf_text *out,
                                         struct wf_error *e)
{
    struct wf_alternatives *a = NULL;
    enum wf_status status = wf_solve_alternatives(in->target, in->store, in->brewhouse, search,
                                                  (size_t)o->alternatives, &a, e);
    if (status == WF_OK)
        status = report_alternatives(in, o, a, out, e);
    status = conclude(in, o, search, status, a ? a->list[0].recipe : NULL, out, e);
    wf_alternatives_free(a);
    return status;
}

static enum wf_status report_trade(const struct inputs *in, const struct solve_options *o,
                                   const struct wf_trade *t, struct wf_text *out,
                                   struct wf_error *e)
{
    struct wf_report_style style = style_of(o);
    char *text = NULL;
    for (size_t i = 0; i < t->count; i++)
        WF_TRY(add_ranges(in, t->points[i].recipe, e));
    WF_TRY(o->json ? wf_report_trade_json(t, &text, e) : wf_report_trade_text(t, &style, &text, e));
    print(out, text);
    return WF_OK;
}

static enum wf_status solve_trade(const struct inputs *in, const struct solve_options *o,
                                  const struct wf_solve_options *search, struct wf_text *out,
                                  struct wf_error *e)
{
    struct wf_trade *t = NULL;
    enum wf_status status = wf_solve_trade(in->target, in->store, in->brewhouse, search, &t, e);
    if (status == WF_OK)
        status = report_trade(in, o, t, out, e);
    status = conclude(in, o, search, status, t ? t->nearest : NULL, out, e);
    wf_trade_free(t);
    return status;
}

static enum wf_status run(const struct wf_call *call, struct wf_text *out, struct wf_error *e)
{
    const struct solve_options *o = call->options;
    struct inputs in = {0};
    struct wf_terminal_line line = {0};
    enum wf_status status;

    WF_TRY_GOTO(check(o, e));
    WF_TRY_GOTO(read_inputs(&in, call->operands[0], o, e));
    override_figures(&in, o);
    WF_TRY_GOTO(override_ids(&in, o, call->arena, e));
    struct wf_solve_options search = search_options(o, &line);
    WF_TRY_GOTO(override_with_largest(&in, o, &search, e));
    if (o->write_model)
        WF_TRY_GOTO(write_model(&in, &search, o->write_model, e));
    status = (o->trade.count > 0        ? solve_trade
              : !isnan(o->alternatives) ? solve_alternatives
                                        : solve_one)(&in, o, &search, out, e);
    wf_terminal_progress_end(&line);
done:
    inputs_free(&in);
    return status;
}

const struct wf_command wf_command_solve = {
    .name = "solve",
    .operands = "TARGET",
    .least = 1,
    .most = 1,
    .summary = "find the grain and hop weights that give a beer",
    .about = "TARGET is a built-in beer (see 'wortfit beers') or a target file.\n",
    .example = "wortfit solve amber-ale --og 1.055 --goal cost,fewest\n"
               "wortfit solve my-amber.json --store cellar.json --colour \"<= 12 SRM\"",
    .options = rows,
    .options_size = sizeof(struct solve_options),
    .run = run,
};
