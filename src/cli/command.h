/*
 * command.h: a command as data, and the table of them all. One command, one file, one row.
 */
#ifndef WF_COMMAND_H
#define WF_COMMAND_H

#include "base/text.h"
#include "cli/options.h"

struct wf_command {
    const char *name;                /* "solve" */
    const char *operands;            /* as the usage line shows them: "TARGET", "[NAME]", "" */
    size_t least, most;              /* operands */
    const char *summary;             /* one line: "find the weights of a beer" */
    const char *about;               /* more lines for its help, each ended by a newline; or "" */
    const char *example;             /* lines that work, "wortfit" before each; "\n" between */
    const struct wf_option *options; /* ended by a row of kind WF_OPTION_END */
    size_t options_size;             /* of the command's struct */
    /* Does the work. Results go to `out`, which is printed whatever is returned. */
    enum wf_status (*run)(const struct wf_call *call, struct wf_text *out, struct wf_error *e);
};

/* In the order of the help page; NULL-terminated. */
extern const struct wf_command *const wf_commands[];

extern const struct wf_command wf_command_solve, wf_command_check, wf_command_compare,
    wf_command_scale, wf_command_adjust, wf_command_substitute, wf_command_survey, wf_command_plan,
    wf_command_sheet, wf_command_brewed, wf_command_learn, wf_command_stock, wf_command_beers,
    wf_command_malts, wf_command_hops, wf_command_yeasts, wf_command_words, wf_command_help;

/* The command of that name, or the one whose name begins so and no other does; NULL: the message
 * names the candidates or the nearest. */
const struct wf_command *wf_command_find(const char *name, struct wf_error *e);

#endif
