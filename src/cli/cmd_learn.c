/* cmd_learn.c: wortfit learn LOG: what brews say of the brewhouse. */
#include "cli/lister.h" /* wf_unit_words */
#include "cli/recipe_inputs.h"
#include "cli/terminal.h"

#include "base/try.h"
#include "report/report_learn.h"

struct learn_options {
    const char *brewhouse;
    struct wf_choices units;
    bool write, json;
};

#define AT(member) .offset = offsetof(struct learn_options, member)

/* A row is a line or two. */
/* clang-format off */
static const struct wf_option rows[] = {
    {.name = "brewhouse", .word = "FILE", .kind = WF_OPTION_TEXT, AT(brewhouse),
     .text = "what to hold it against (the usual one)"},
    {.name = "write", .kind = WF_OPTION_FLAG, AT(write),
     .text = "write what enough brews tell into the brewhouse file"},
    WF_ROW_UNITS(AT(units)),
    WF_ROW_JSON(AT(json), "for programs"),
    {.kind = WF_OPTION_END},
};
/* clang-format on */

static enum wf_status report(const struct learn_options *o, const struct wf_learning *l,
                             struct wf_text *out, struct wf_error *e)
{
    const struct wf_report_style style = {(enum wf_units)o->units.picked[0], wf_terminal_colour()};
    const char *written = o->write ? o->brewhouse : NULL;
    char *text = NULL;
    WF_TRY(o->json ? wf_report_learn_json(l, written, &text, e)
                   : wf_report_learn_text(l, written, &style, &text, e));
    wf_add_report(out, text);
    return WF_OK;
}

static enum wf_status run(const struct wf_call *call, struct wf_text *out, struct wf_error *e)
{
    const struct learn_options *o = call->options;
    enum wf_units units = (enum wf_units)o->units.picked[0];
    struct wf_catalogue *c = NULL;
    struct wf_brewhouse *b = NULL, usual;
    struct wf_log *log = NULL;
    struct wf_learning *l = NULL;
    enum wf_status status;
    if (o->write && !o->brewhouse)
        return wf_error_add(e, WF_USAGE, "write it where? give --brewhouse");
    wf_brewhouse_default(units, &usual);
    WF_TRY_GOTO(wf_catalogue_read(&c, e));
    if (o->brewhouse)
        WF_TRY_GOTO(wf_brewhouse_read(o->brewhouse, units, &b, e));
    WF_TRY_GOTO(wf_log_read(call->operands[0], c, &log, e));
    WF_TRY_GOTO(wf_learn(log, b ? b : &usual, &l, e));
    if (o->write)
        WF_TRY_GOTO(wf_learning_write(l, o->brewhouse, e));
    status = report(o, l, out, e);
done:
    wf_learning_free(l);
    wf_log_free(log);
    wf_brewhouse_free(b);
    wf_catalogue_free(c);
    return status;
}

const struct wf_command wf_command_learn = {
    .name = "learn",
    .operands = "LOG",
    .least = 1,
    .most = 1,
    .summary = "from a brew log: efficiency, evaporation, yeasts, and how sure",
    .about = "LOG is what 'wortfit brewed' writes. Estimates that a slip does not move, with\n"
             "their spread from brew to brew. Later solves use what is written, spreads too.\n",
    .example = "wortfit learn examples/alder-lane.brews.jsonl",
    .options = rows,
    .options_size = sizeof(struct learn_options),
    .run = run,
};
