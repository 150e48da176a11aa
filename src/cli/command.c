/* command.c: the table of commands, and how a name finds its row. */
#include "cli/command.h"

#include "base/number.h"
#include "base/suggest.h"
#include "base/try.h"

#include <string.h>

const struct wf_command *const wf_commands[] = {
    &wf_command_solve,
    &wf_command_check,
    &wf_command_compare,
    &wf_command_scale,
    &wf_command_adjust,
    &wf_command_substitute,
    &wf_command_survey,
    &wf_command_plan,
    &wf_command_sheet,
    &wf_command_brewed,
    &wf_command_learn,
    &wf_command_stock,
    &wf_command_beers,
    &wf_command_malts,
    &wf_command_hops,
    &wf_command_yeasts,
    &wf_command_words,
    &wf_command_help,
    NULL,
};
#define COMMAND_COUNT (WF_COUNT_OF(wf_commands) - 1)

static void name_the_nearest(const char *name, struct wf_error *e)
{
    const char *names[COMMAND_COUNT];
    for (size_t i = 0; i < COMMAND_COUNT; i++)
        names[i] = wf_commands[i]->name;
    int near = wf_suggest(name, names, COMMAND_COUNT);
    if (near >= 0)
        wf_error_add(e, WF_USAGE, "unknown command '%s', did you mean '%s'?", name, names[near]);
    else
        wf_error_add(e, WF_USAGE, "unknown command '%s', see 'wortfit help'", name);
}

const struct wf_command *wf_command_find(const char *name, struct wf_error *e)
{
    const struct wf_command *found = NULL;
    size_t length = strlen(name), candidates = 0;
    char list[256] = "";
    for (size_t i = 0; i < COMMAND_COUNT && length > 0; i++) {
        const char *known = wf_commands[i]->name;
        if (strncmp(known, name, length) != 0)
            continue;
        if (known[length] == '\0')
            return wf_commands[i];
        found = wf_commands[i];
        size_t used = strlen(list);
        wf_snprintf(list + used, sizeof list - used, "%s%s", candidates++ ? ", " : "", known);
    }
    if (candidates == 0)
        name_the_nearest(name, e);
    else if (candidates > 1)
        wf_error_add(e, WF_USAGE, "command '%s' may be any of %s", name, list);
    return candidates == 1 ? found : NULL;
}
