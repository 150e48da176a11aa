/* cmd_help.c: wortfit help [COMMAND]. */
#include "cli/help.h"

struct help_options {
    bool all;
};

static const struct wf_option rows[] = {
    {.name = "all",
     .kind = WF_OPTION_FLAG,
     .offset = offsetof(struct help_options, all),
     .text = "what every option does, also where that is more than a screen"},
    {.kind = WF_OPTION_END},
};

static enum wf_status run(const struct wf_call *call, struct wf_text *out, struct wf_error *e)
{
    const struct help_options *o = call->options;
    if (call->operand_count == 0) {
        wf_help_all(out);
        return WF_OK;
    }
    const struct wf_command *c = wf_command_find(call->operands[0], e);
    if (!c)
        return e->status;
    wf_help_command(out, c, o->all);
    return WF_OK;
}

const struct wf_command wf_command_help = {
    .name = "help",
    .operands = "[COMMAND]",
    .most = 1,
    .summary = "show all commands, or one with its options",
    .about = "",
    .example = "wortfit help solve",
    .options = rows,
    .options_size = sizeof(struct help_options),
    .run = run,
};
