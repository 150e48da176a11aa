/* cmd_brewed.c: wortfit brewed RECIPE: a brew into the log, and out of the stock. */
#include "cli/recipe_inputs.h"
#include "cli/today.h"

#include "base/try.h"
#include "cli/lister.h" /* wf_unit_words */
#include "report/report_brewed.h"

#include <math.h>

struct brewed_options {
    struct wf_recipe_options recipe;
    struct wf_measured measured; /* volume: into the fermenter */
    double left_l;
    const char *const *used;
    bool later, again;
};

#define AT(member) .offset = offsetof(struct brewed_options, member)

/* A row is a line or two. */
/* clang-format off */
static const struct wf_option rows[] = {
    {.name = "og", .word = "GRAVITY", .kind = WF_OPTION_QUANTITY, .dimension = WF_DIM_GRAVITY,
     .least = 1.002, .most = 1.150, .limits = "1.002 to 1.150", AT(measured.og),
     .text = "original gravity, measured"},
    {.name = "volume", .word = "VOLUME", .kind = WF_OPTION_QUANTITY, .dimension = WF_DIM_VOLUME,
     .least = 0.5, .most = 1e5, .limits = "0.5 L to 1000 hL", AT(measured.volume_l),
     .text = "cooled wort into the fermenter"},
    {.name = "left", .word = "VOLUME", .kind = WF_OPTION_QUANTITY, .dimension = WF_DIM_VOLUME,
     .least = 0, .most = 1e5, .limits = "0 L to 1000 hL", AT(left_l),
     .text = "and left in the kettle (the brewhouse's loss; 0 L)"},
    {.name = "pre-boil-gravity", .word = "GRAVITY", .kind = WF_OPTION_QUANTITY,
     .dimension = WF_DIM_GRAVITY, .least = 1.0, .most = 1.150, .limits = "1.000 to 1.150",
     AT(measured.pre_boil_gravity), .text = "before the boil"},
    {.name = "pre-boil-volume", .word = "VOLUME", .kind = WF_OPTION_QUANTITY,
     .dimension = WF_DIM_VOLUME, .least = 0.5, .most = 1e5, .limits = "0.5 L to 1000 hL",
     AT(measured.pre_boil_l), .text = "before the boil, as if cooled"},
    {.name = "boil", .word = "TIME", .kind = WF_OPTION_QUANTITY, .dimension = WF_DIM_TIME,
     .least = 0, .most = 240, .limits = "0 to 240 min", AT(measured.boil_minutes),
     .text = "how long it boiled (the recipe's)"},
    {.name = "fg", .word = "GRAVITY", .kind = WF_OPTION_QUANTITY, .dimension = WF_DIM_GRAVITY,
     .least = 0.980, .most = 1.100, .limits = "0.980 to 1.100", AT(measured.fg),
     .text = "final gravity, measured"},
    {.name = "ibu", .word = "BITTERNESS", .kind = WF_OPTION_QUANTITY,
     .dimension = WF_DIM_BITTERNESS, .least = 0, .most = 200, .limits = "0 to 200 IBU",
     AT(measured.ibu), .text = "bitterness from a laboratory: \"34 IBU\""},
    {.name = "colour", .also = "color", .word = "COLOUR", .kind = WF_OPTION_QUANTITY,
     .dimension = WF_DIM_BEER_COLOUR, .least = 0, .most = 100, .limits = "0 to 100 SRM",
     AT(measured.srm), .text = "colour from a laboratory: \"24 EBC\""},
    {.name = "used", .word = "ID=AMOUNT", .kind = WF_OPTION_TEXTS, AT(used),
     .text = "what was really taken of a lot (may be repeated)"},
    {.name = "later", .kind = WF_OPTION_FLAG, AT(later),
     .text = "add figures to its last brew, or correct them"},
    {.name = "again", .kind = WF_OPTION_FLAG, AT(again), .text = "it was brewed twice that day"},
    {.name = "store", .word = "FILE", .kind = WF_OPTION_TEXT, AT(recipe.store),
     .text = "what is drawn down; the log is beside it"},
    {.name = "brewhouse", .word = "FILE", .kind = WF_OPTION_TEXT, AT(recipe.brewhouse),
     .text = "where it was brewed (the recipe's system)"},
    {.name = "on", .word = "DATE", .kind = WF_OPTION_DATE, AT(recipe.on),
     .text = "brewing day (today)"},
    WF_ROW_UNITS(AT(recipe.units)),
    WF_ROW_JSON(AT(recipe.json), "for programs"),
    {.kind = WF_OPTION_END},
};
/* clang-format on */

/* ---- Options --------------------------------------------------------------------------------- */

static bool says_nothing(const struct brewed_options *o)
{
    const struct wf_measured *m = &o->measured;
    return isnan(m->og) && isnan(m->volume_l) && isnan(m->pre_boil_gravity) &&
           isnan(m->pre_boil_l) && isnan(m->boil_minutes) && isnan(m->fg) && isnan(m->ibu) &&
           isnan(m->srm);
}

/* What was taken from the store stays as it was told on the day. */
static void check_later(const struct brewed_options *o, struct wf_error *e)
{
    if (o->used)
        wf_error_add(e, WF_USAGE,
                     "option --used is of the brewing day; --later changes no stock ('wortfit "
                     "stock' does)");
    if (o->again)
        wf_error_add(e, WF_USAGE, "either --later, of a brew in the log, or --again, of another");
    if (!isnan(o->left_l) && isnan(o->measured.volume_l))
        wf_error_add(e, WF_USAGE, "option --left goes with --volume");
    if (says_nothing(o))
        wf_error_add(e, WF_USAGE, "later what? give --fg or another figure");
}

static enum wf_status check_options(const struct brewed_options *o, struct wf_error *e)
{
    const struct wf_measured *m = &o->measured;
    if (!o->recipe.store)
        wf_error_add(e, WF_USAGE, "brewed from which store? give --store; the log is beside it");
    if (o->later) {
        check_later(o, e);
    } else if (isnan(m->og) || isnan(m->volume_l)) {
        wf_error_add(e, WF_USAGE,
                     "a brew needs --og and --volume, as measured (a beer that is in "
                     "the log already: --later)");
    }
    return e->count > 0 ? e->status : WF_OK;
}

/* ---- Reports --------------------------------------------------------------------------------- */

static enum wf_status report(const struct brewed_options *o, const struct wf_brewed_view *v,
                             struct wf_text *out, struct wf_error *e)
{
    struct wf_report_style style = wf_recipe_style(&o->recipe);
    char *text = NULL;
    WF_TRY(o->recipe.json ? wf_report_brewed_json(v, &text, e)
                          : wf_report_brewed_text(v, &style, &text, e));
    wf_add_report(out, text);
    return WF_OK;
}

/* The volume is that of the fermenter; the log's is that of the kettle. */
static double left_of(const struct brewed_options *o, const struct wf_recipe_inputs *in)
{
    return !isnan(o->left_l) ? o->left_l : in->brewhouse ? in->brewhouse->kettle_loss_l : 0;
}

static enum wf_status brew(const struct brewed_options *o, const struct wf_recipe_inputs *in,
                           struct wf_recipe *r, struct wf_brewed_asked *asked, struct wf_text *out,
                           struct wf_error *e)
{
    struct wf_brewed *b = NULL;
    double left = left_of(o, in);
    asked->measured.volume_l += left;
    asked->on = o->recipe.on >= 0 ? o->recipe.on : wf_today();
    WF_TRY(wf_recipe_take(r, o->used, &asked->packs, e));
    WF_TRY(wf_brewed(asked, in->catalogue, &b, e));
    const struct wf_brewed_view v = {.recipe = r,
                                     .planned = asked->planned,
                                     .measured = asked->measured,
                                     .figures = b->figures,
                                     .id = b->id,
                                     .log = b->log,
                                     .on = asked->on,
                                     .left_l = left,
                                     .brewed = b};
    enum wf_status status = report(o, &v, out, e);
    wf_brewed_free(b);
    return status;
}

static enum wf_status add_later(const struct brewed_options *o, const struct wf_recipe_inputs *in,
                                struct wf_brewed_asked *asked, struct wf_text *out,
                                struct wf_error *e)
{
    struct wf_log *log = NULL;
    const struct wf_brew *b = NULL;
    asked->measured.volume_l += left_of(o, in); /* NaN stays NaN */
    WF_TRY(wf_brewed_later(asked, in->catalogue, &log, &b, e));
    struct wf_brewed_view v = {.recipe = b->recipe,
                               .planned = b->planned,
                               .measured = b->measured,
                               .id = b->id,
                               .log = log->name,
                               .on = b->on};
    enum wf_status status = wf_brew_reckon(b->recipe, &b->measured, &v.figures, e);
    if (status == WF_OK)
        status = report(o, &v, out, e);
    wf_log_free(log);
    return status;
}

static enum wf_status run(const struct wf_call *call, struct wf_text *out, struct wf_error *e)
{
    const struct brewed_options *o = call->options;
    struct wf_recipe_inputs in = {0};
    struct wf_recipe *r = NULL;
    char hash[WF_RECIPE_HASH_MAX];
    enum wf_status status;
    WF_TRY(check_options(o, e));
    WF_TRY_GOTO(wf_recipe_inputs_read(&in, &o->recipe, e));
    WF_TRY_GOTO(wf_recipe_inputs_recipe(&in, call->operands[0], in.brewhouse, &r, e));
    wf_recipe_hash(r, hash);
    struct wf_brewed_asked asked = {.store = o->recipe.store,
                                    .recipe = r,
                                    .planned = r->predicted,
                                    .hash = hash,
                                    .brewhouse = in.brewhouse ? in.brewhouse->name : NULL,
                                    .on = o->recipe.on,
                                    .measured = o->measured,
                                    .packs = 1,
                                    .again = o->again};
    status = o->later ? add_later(o, &in, &asked, out, e) : brew(o, &in, r, &asked, out, e);
done:
    wf_recipe_free(r);
    wf_recipe_inputs_free(&in);
    return status;
}

const struct wf_command wf_command_brewed = {
    .name = "brewed",
    .operands = "RECIPE",
    .least = 1,
    .most = 1,
    .summary = "write a brew down: draw the stock down, say what differed",
    .about = "The log of NAME.json is NAME.brews.jsonl beside it. Store and log are changed\n"
             "both or neither. What is told twice is noticed, and nothing is changed then.\n",
    .example = "wortfit brewed amber.json --store cellar.json --og 1.052 --volume 19.5L",
    .options = rows,
    .options_size = sizeof(struct brewed_options),
    .run = run,
};
