/* cmd_survey.c: wortfit survey [NAME]: the built-in beers against a store. */
#include "cli/beer_filter.h"

#include "base/try.h"
#include "cli/lister.h"
#include "cli/recipe_inputs.h"
#include "cli/terminal.h"
#include "cli/today.h"

#include <math.h>

struct survey_options {
    const char *store, *shop, *brewhouse;
    struct wf_beer_filter filter;
    struct wf_choices goals, order, units;
    double batch, missing, spend, threads; /* L; numbers; money */
    long on;
    bool can_brew, no_shop, json;
};

static const char *const goal_words[] = {
#define WF_X(id, word, text) word,
    WF_GOAL_LIST(WF_X)
#undef WF_X
        NULL,
};
static const char *const order_words[] = {
#define WF_X(id, word) word,
    WF_SURVEY_ORDER_LIST(WF_X)
#undef WF_X
        NULL,
};

#define AT(member) .offset = offsetof(struct survey_options, member)

/* A row is two or three lines. */
/* clang-format off */
static const struct wf_option rows[] = {
    {.name = "store", .word = "FILE", .kind = WF_OPTION_TEXT, AT(store),
     .text = "what there is to brew from (the sample shop)"},
    {.name = "shop", .word = "FILE", .kind = WF_OPTION_TEXT, AT(shop),
     .text = "where the rest is bought, a store file (the sample shop)"},
    {.name = "no-shop", .kind = WF_OPTION_FLAG, AT(no_shop),
     .text = "buy nothing: tell what stands in the way"},
    {.name = "can-brew", .kind = WF_OPTION_FLAG, AT(can_brew),
     .text = "only what can be brewed now"},
    {.name = "missing-most", .word = "N", .kind = WF_OPTION_QUANTITY, AT(missing),
     .dimension = WF_DIM_NUMBER, .least = 0, .most = 1000, .limits = "0 to 1000",
     .text = "only what lacks no more than N things"},
    {.name = "spend-most", .word = "MONEY", .kind = WF_OPTION_QUANTITY, AT(spend),
     .dimension = WF_DIM_MONEY, .least = 0, .most = 1e9, .limits = "0 or more",
     .text = "only what takes no more than this to buy"},
    WF_BEER_FILTER_OPTIONS(offsetof(struct survey_options, filter)),
    {.name = "sort", .word = "WORD", .kind = WF_OPTION_CHOICES, AT(order), .words = order_words,
     .preset = "cost", .text = "by cost, aims, name, group or fewest to buy"},
    {.name = "goal", .word = "LIST", .kind = WF_OPTION_CHOICES, AT(goals), .words = goal_words,
     .many = true, .preset = "cost", .text = "of what can be brewed: as in solve"},
    {.name = "brewhouse", .word = "FILE", .kind = WF_OPTION_TEXT, AT(brewhouse),
     .text = "what it is brewed on (20 L, 75 %)"},
    WF_ROW_BATCH(AT(batch), "wort after the boil"),
    WF_ROW_ON(AT(on)),
    {.name = "threads", .word = "N", .kind = WF_OPTION_QUANTITY, AT(threads),
     .dimension = WF_DIM_NUMBER, .least = 1, .most = WF_SURVEY_THREADS_MOST, .limits = "1 to 64",
     .text = "so many searches at a time (one a processor)"},
    WF_ROW_UNITS(AT(units)),
    WF_ROW_JSON(AT(json), "for programs"),
    {.kind = WF_OPTION_END},
};
/* clang-format on */

struct inputs {
    struct wf_catalogue *catalogue;
    struct wf_store *store, *shop;
    struct wf_brewhouse *read, brewhouse; /* as read; and as it is brewed on */
    struct wf_target **beers;
    const struct wf_target **wanted;
    size_t beer_count, wanted_count;
};

static void inputs_free(struct inputs *in)
{
    for (size_t i = 0; i < in->beer_count; i++)
        wf_target_free(in->beers[i]);
    wf_brewhouse_free(in->read);
    wf_store_free(in->shop);
    wf_store_free(in->store);
    wf_catalogue_free(in->catalogue);
}

static enum wf_units units_of(const struct survey_options *o)
{
    return (enum wf_units)o->units.picked[0];
}

/* ---- Reading --------------------------------------------------------------------------------- */

static enum wf_status check(const struct survey_options *o, struct wf_error *e)
{
    if (o->no_shop && o->shop)
        return wf_error_add(e, WF_USAGE, "--shop and --no-shop: give one of them");
    if (!isnan(o->missing) && o->missing != floor(o->missing))
        return wf_error_add(e, WF_USAGE,
                            "--missing-most: needs a whole number: write --missing-most 2");
    if (!isnan(o->threads) && o->threads != floor(o->threads))
        return wf_error_add(e, WF_USAGE, "--threads: needs a whole number: write --threads 2");
    return WF_OK;
}

static enum wf_status read_store(const char *path, const struct wf_catalogue *c,
                                 struct wf_store **out, struct wf_error *e)
{
    return path ? wf_store_read(path, c, out, e) : wf_store_sample(c, out, e);
}

static enum wf_status read_brewhouse(struct inputs *in, const struct survey_options *o,
                                     struct wf_error *e)
{
    wf_brewhouse_default(units_of(o), &in->brewhouse);
    if (o->brewhouse) {
        WF_TRY(wf_brewhouse_read(o->brewhouse, units_of(o), &in->read, e));
        in->brewhouse = *in->read;
    }
    if (!isnan(o->batch)) {
        in->brewhouse.batch_l = o->batch;
        in->brewhouse.batch_given = true;
    }
    return WF_OK;
}

static bool is_called(const struct wf_target *t, const char *name)
{
    return name == NULL || wf_text_holds(t->id, name) || wf_text_holds(t->name, name);
}

/* The beers that are asked for, by name and by what they are like. */
static enum wf_status pick_beers(struct inputs *in, const struct wf_call *call, struct wf_error *e)
{
    const struct survey_options *o = call->options;
    const char *name = call->operand_count > 0 ? call->operands[0] : NULL;
    size_t most = wf_target_builtin_count(), called = 0;
    in->beers = wf_arena_alloc(call->arena, most, sizeof *in->beers);
    in->wanted = wf_arena_alloc(call->arena, most, sizeof *in->wanted);
    if (in->beers == NULL || in->wanted == NULL)
        return wf_error_add(e, WF_MEMORY, "out of memory");
    WF_TRY(wf_beers_read_all(in->catalogue, in->beers, &in->beer_count, e));
    for (size_t i = 0; i < in->beer_count; i++) {
        if (!is_called(in->beers[i], name))
            continue;
        called++;
        if (wf_beer_filter_keeps(&o->filter, in->beers[i]))
            in->wanted[in->wanted_count++] = in->beers[i];
    }
    if (called == 0)
        return wf_error_add(e, WF_BAD_INPUT, "no beer has '%s' in its name, see 'wortfit beers'",
                            name);
    return WF_OK;
}

static enum wf_status read_inputs(struct inputs *in, const struct wf_call *call, struct wf_error *e)
{
    const struct survey_options *o = call->options;
    WF_TRY(wf_catalogue_read(&in->catalogue, e));
    WF_TRY(read_store(o->store, in->catalogue, &in->store, e));
    if (!o->no_shop)
        WF_TRY(read_store(o->shop, in->catalogue, &in->shop, e));
    WF_TRY(read_brewhouse(in, o, e));
    return pick_beers(in, call, e);
}

/* ---- The survey ------------------------------------------------------------------------------ */

static struct wf_survey_options options_of(const struct survey_options *o,
                                           struct wf_terminal_line *line)
{
    struct wf_survey_options s = {
        .solve = {.goal_count = o->goals.count,
                  .today = o->on >= 0 ? o->on : wf_today(),
                  .cancel = wf_terminal_watch(),
                  .progress = wf_terminal_progress,
                  .progress_data = line},
        .threads = isnan(o->threads) ? 0 : (size_t)o->threads,
    };
    for (size_t i = 0; i < o->goals.count; i++)
        s.solve.goals[i] = (enum wf_goal)o->goals.picked[i];
    return s;
}

/* A limit on what is to be bought leaves out what cannot be brewed whatever is bought. */
static bool is_wanted(const struct wf_surveyed *b, const struct survey_options *o)
{
    bool limited = o->can_brew || !isnan(o->missing) || !isnan(o->spend);
    if (b->verdict == WF_VERDICT_NOW || !limited)
        return true;
    return b->verdict == WF_VERDICT_BUY && !o->can_brew &&
           !((double)b->basket_count > o->missing) && !(b->recipe->cost > o->spend + 1e-9);
}

/* Those that are wanted to the front, in order. */
static void keep_wanted(struct wf_survey *v, const struct survey_options *o)
{
    size_t kept = 0;
    for (size_t i = 0; i < v->count; i++) {
        struct wf_surveyed beer = v->beers[i];
        if (!is_wanted(&beer, o))
            continue;
        v->beers[i] = v->beers[kept];
        v->beers[kept++] = beer;
    }
    v->count = kept;
}

static enum wf_status report(const struct wf_survey *v, const struct survey_options *o,
                             struct wf_text *out, struct wf_error *e)
{
    char *text = NULL;
    struct wf_report_style style = {units_of(o), wf_terminal_colour()};
    WF_TRY(o->json ? wf_report_survey_json(v, &text, e)
                   : wf_report_survey_text(v, &style, &text, e));
    wf_add_report(out, text);
    return WF_OK;
}

static enum wf_status run(const struct wf_call *call, struct wf_text *out, struct wf_error *e)
{
    const struct survey_options *o = call->options;
    struct inputs in = {0};
    struct wf_terminal_line line = {0};
    struct wf_survey *v = NULL;
    struct wf_survey_options search = options_of(o, &line);
    enum wf_status status;
    WF_TRY_GOTO(check(o, e));
    WF_TRY_GOTO(read_inputs(&in, call, e));
    status = wf_survey_make(in.wanted, in.wanted_count, in.store, o->can_brew ? NULL : in.shop,
                            &in.brewhouse, &search, &v, e);
    wf_terminal_progress_end(&line);
    if (status != WF_OK)
        goto done;
    keep_wanted(v, o);
    wf_survey_sort(v, (enum wf_survey_order)o->order.picked[0]);
    status = report(v, o, out, e);
done:
    wf_survey_free(v);
    inputs_free(&in);
    return status;
}

const struct wf_command wf_command_survey = {
    .name = "survey",
    .operands = "[NAME]",
    .most = 1,
    .summary = "which beers a store makes, and the least to buy for others",
    .about = "NAME is a part of a beer's name; all built-in beers without it.\n"
             "Where something is bought, what is in the store is paid for and costs nothing.\n",
    .example = "wortfit survey --store examples/alder-lane-cellar.json --missing-most 1",
    .options = rows,
    .options_size = sizeof(struct survey_options),
    .run = run,
};
