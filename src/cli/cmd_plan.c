/* cmd_plan.c: wortfit plan BEER...: several beers from one store at once. */
#include "cli/command.h"
#include "cli/option_rows.h"

#include "base/file.h"
#include "base/number.h"
#include "base/try.h"
#include "cli/lister.h" /* wf_unit_words */
#include "cli/recipe_inputs.h"
#include "cli/terminal.h"
#include "cli/today.h"

#include <math.h>
#include <string.h>

struct plan_options {
    const char *store, *shop, *brewhouse, *write_model;
    double batch, time; /* L, min */
    struct wf_choices units;
    long on;
    bool as_many, json;
};

#define AT(member) .offset = offsetof(struct plan_options, member)

/* A row is two or three lines. */
/* clang-format off */
static const struct wf_option rows[] = {
    {.name = "store", .word = "FILE", .kind = WF_OPTION_TEXT, AT(store),
     .text = "what there is to brew from (the sample shop)"},
    {.name = "shop", .word = "FILE", .kind = WF_OPTION_TEXT, AT(shop),
     .text = "a store file to buy from what is short"},
    {.name = "as-many-as-can", .kind = WF_OPTION_FLAG, AT(as_many),
     .text = "the most of these beers that the stock allows"},
    {.name = "brewhouse", .word = "FILE", .kind = WF_OPTION_TEXT, AT(brewhouse),
     .text = "what they are brewed on (20 L, 75 %)"},
    WF_ROW_BATCH(AT(batch), "wort after the boil, of each beer that names none"),
    WF_ROW_TIME(AT(time)),
    WF_ROW_ON(AT(on)),
    WF_ROW_UNITS(AT(units)),
    WF_ROW_JSON(AT(json), "the plan and its recipes for programs"),
    {.name = "write-model", .word = "FILE", .kind = WF_OPTION_TEXT, AT(write_model),
     .text = "also write the integer model, CPLEX LP"},
    {.kind = WF_OPTION_END},
};
/* clang-format on */

/* All that a plan reads. */
struct inputs {
    struct wf_catalogue *catalogue;
    struct wf_store *store, *shop;
    struct wf_brewhouse *brewhouse;                     /* NULL: the usual one */
    struct wf_target *targets[WF_PLAN_BEERS_MOST];      /* one an operand */
    struct wf_brewhouse brewhouses[WF_PLAN_BEERS_MOST]; /* one an operand, with its batch */
    struct wf_plan_beer beers[WF_PLAN_BEERS_MOST];
    size_t target_count, count;
};

static void inputs_free(struct inputs *in)
{
    for (size_t i = 0; i < in->target_count; i++)
        wf_target_free(in->targets[i]);
    wf_brewhouse_free(in->brewhouse);
    wf_store_free(in->store);
    wf_store_free(in->shop);
    wf_catalogue_free(in->catalogue);
}

static enum wf_units units_of(const struct plan_options *o)
{
    return (enum wf_units)o->units.picked[0];
}

static enum wf_status check(const struct plan_options *o, struct wf_error *e)
{
    if (o->as_many && o->shop)
        return wf_error_add(e, WF_USAGE, "--as-many-as-can and --shop: give one of them");
    if (o->as_many && !o->store)
        return wf_error_add(e, WF_USAGE,
                            "--as-many-as-can: needs a stock to brew from: give --store");
    return WF_OK;
}

static enum wf_status read_inputs(struct inputs *in, const struct plan_options *o,
                                  struct wf_error *e)
{
    WF_TRY(wf_catalogue_read(&in->catalogue, e));
    if (o->store)
        WF_TRY(wf_store_read(o->store, in->catalogue, &in->store, e));
    else
        WF_TRY(wf_store_sample(in->catalogue, &in->store, e));
    if (o->shop)
        WF_TRY(wf_store_read(o->shop, in->catalogue, &in->shop, e));
    if (o->brewhouse)
        WF_TRY(wf_brewhouse_read(o->brewhouse, units_of(o), &in->brewhouse, e));
    return WF_OK;
}

/* ---- "2 amber-ale", "40 L amber-ale", "amber-ale" -------------------------------------------- */

struct wanted {
    const char *beer;
    double batch_l; /* NaN: not told */
    size_t times;
};

static enum wf_status check_wanted(const struct wanted *w, const char *operand, struct wf_error *e)
{
    if (isfinite(w->batch_l) && !(w->batch_l >= 0.5 && w->batch_l <= 10000))
        return wf_error_add(e, WF_USAGE, "'%s': a batch is 0.5 L to 10000 L", operand);
    if (w->times < 1 || w->times > WF_PLAN_BEERS_MOST)
        return wf_error_add(e, WF_USAGE, "'%s': 1 to %d of a beer can be planned", operand,
                            WF_PLAN_BEERS_MOST);
    return WF_OK;
}

/* What stands before the last space is a number or a volume, or else part of a file's name. */
static enum wf_status read_wanted(const char *operand, struct wf_arena *arena, struct wanted *w,
                                  struct wf_error *e)
{
    const char *space = strrchr(operand, ' ');
    char why[WF_REASON_MAX];
    double times;
    *w = (struct wanted){.beer = operand, .batch_l = NAN, .times = 1};
    if (space == NULL || space == operand)
        return WF_OK;
    char *before = wf_arena_copy(arena, operand, (size_t)(space - operand));
    if (before == NULL)
        return wf_error_add(e, WF_MEMORY, "out of memory");
    if (wf_quantity_parse(WF_DIM_VOLUME, before, &w->batch_l, why))
        w->beer = space + 1;
    else if (wf_quantity_parse(WF_DIM_NUMBER, before, &times, why)) {
        w->beer = space + 1;
        w->times =
            times >= 1 && times <= WF_PLAN_BEERS_MOST && times == floor(times) ? (size_t)times : 0;
    }
    return check_wanted(w, operand, e);
}

static enum wf_status add_beer(struct inputs *in, const struct plan_options *o,
                               const struct wanted *w, struct wf_error *e)
{
    struct wf_brewhouse *b = &in->brewhouses[in->target_count];
    struct wf_target **t = &in->targets[in->target_count];
    double batch = isfinite(w->batch_l) ? w->batch_l : o->batch;
    WF_TRY(wf_target_find(w->beer, in->catalogue, t, e));
    in->target_count++;
    if (in->brewhouse)
        *b = *in->brewhouse;
    else
        wf_brewhouse_default(units_of(o), b);
    if (isfinite(batch)) {
        b->batch_l = batch;
        b->batch_given = true;
    }
    for (size_t i = 0; i < w->times; i++) {
        if (in->count == WF_PLAN_BEERS_MOST)
            return wf_error_add(e, WF_USAGE, "more than %d beers: plan them in parts",
                                WF_PLAN_BEERS_MOST);
        in->beers[in->count++] = (struct wf_plan_beer){*t, b};
    }
    return WF_OK;
}

static enum wf_status read_beers(struct inputs *in, const struct wf_call *call, struct wf_error *e)
{
    for (size_t i = 0; i < call->operand_count; i++) {
        struct wanted w;
        WF_TRY(read_wanted(call->operands[i], call->arena, &w, e));
        WF_TRY(add_beer(in, call->options, &w, e));
    }
    return WF_OK;
}

/* ---- The plan -------------------------------------------------------------------------------- */

static enum wf_status write_model(const struct inputs *in, const struct plan_options *o,
                                  const struct wf_plan *p, long today, struct wf_error *e)
{
    char *text = NULL;
    WF_TRY(wf_plan_model_text(in->beers, in->count, in->store, in->shop, p, today, &text, e));
    enum wf_status status = wf_file_write(o->write_model, text, strlen(text), e);
    wf_text_release(text);
    return status;
}

static enum wf_status report(const struct wf_plan *p, const struct plan_options *o,
                             struct wf_text *out, struct wf_error *e)
{
    const struct wf_report_style style = {units_of(o), wf_terminal_colour()};
    char *text = NULL;
    WF_TRY(o->json ? wf_report_plan_json(p, &text, e) : wf_report_plan_text(p, &style, &text, e));
    wf_add_report(out, text);
    return WF_OK;
}

static enum wf_status plan(const struct inputs *in, const struct plan_options *o,
                           struct wf_text *out, struct wf_error *e)
{
    struct wf_terminal_line line = {0};
    const struct wf_plan_options search = {.as_many = o->as_many,
                                           .search = {.seconds = 60 * o->time,
                                                      .today = o->on >= 0 ? o->on : wf_today(),
                                                      .cancel = wf_terminal_watch(),
                                                      .progress = wf_terminal_progress,
                                                      .progress_data = &line}};
    struct wf_plan *p = NULL;
    enum wf_status status = wf_plan_make(in->beers, in->count, in->store, in->shop, &search, &p, e);
    wf_terminal_progress_end(&line);
    enum wf_status told = p != NULL ? report(p, o, out, e) : WF_OK;
    if (status == WF_OK && told == WF_OK && o->write_model)
        told = write_model(in, o, p, search.search.today, e);
    wf_plan_free(p);
    return told == WF_OK ? status : told;
}

static enum wf_status run(const struct wf_call *call, struct wf_text *out, struct wf_error *e)
{
    const struct plan_options *o = call->options;
    struct inputs in = {0};
    enum wf_status status;
    WF_TRY_GOTO(check(o, e));
    WF_TRY_GOTO(read_inputs(&in, o, e));
    WF_TRY_GOTO(read_beers(&in, call, e));
    status = plan(&in, o, out, e);
done:
    inputs_free(&in);
    return status;
}

const struct wf_command wf_command_plan = {
    .name = "plan",
    .operands = "BEER...",
    .least = 1,
    .most = WF_PLAN_BEERS_MOST,
    .summary = "several beers from one store: what goes where, what to buy",
    .about = "BEER is a built-in beer or a target file; \"2 amber-ale\" is two batches of it,\n"
             "\"40 L amber-ale\" one of that size. Least money is spent, then least worth used\n"
             "up. Exit status 3: they cannot all be brewed.\n",
    .example = "wortfit plan amber-ale old-ale --store examples/alder-lane-cellar.json",
    .options = rows,
    .options_size = sizeof(struct plan_options),
    .run = run,
};
