/* main.c: finds the command, runs it, prints what it has to say, and gives the exit status. */
#include "cli/command.h"
#include "cli/help.h"
#include "cli/terminal.h"
#include "wortfit/wortfit.h"

#include <errno.h>
#include <stdio.h>
#include <string.h>

static enum wf_status run_command(int argc, char **argv, struct wf_text *out, struct wf_error *e)
{
    const struct wf_command *command = wf_command_find(argv[1], e);
    if (!command)
        return e->status;
    struct wf_call call;
    enum wf_status status = wf_options_parse(command, argc - 2, argv + 2, &call, e);
    if (status == WF_OK && call.help)
        wf_help_command(out, command, false);
    else if (status == WF_OK)
        status = command->run(&call, out, e);
    wf_arena_free(call.arena);
    return status;
}

static enum wf_status run(int argc, char **argv, struct wf_text *out, struct wf_error *e)
{
    if (argc < 2)
        return wf_error_add(e, WF_USAGE, "which command? see 'wortfit help'");
    if (strcmp(argv[1], "--help") == 0 || strcmp(argv[1], "-h") == 0) {
        wf_help_all(out);
        return WF_OK;
    }
    if (strcmp(argv[1], "--version") == 0) {
        wf_text_add(out, "wortfit %s\n", WF_VERSION);
        return WF_OK;
    }
    return run_command(argc, argv, out, e);
}

/* Results may be lost as late as the last flush: a full disk, a closed pipe. */
static enum wf_status print(const struct wf_text *out, struct wf_error *e)
{
    if (out->failed)
        return wf_error_add(e, WF_MEMORY, "out of memory");
    errno = 0;
    if (out->length > 0)
        (void)fwrite(out->data, 1, out->length, stdout);
    if (fflush(stdout) != 0 || ferror(stdout))
        return wf_error_add(e, WF_FILE, "cannot write the result: %s", strerror(errno));
    return WF_OK;
}

int main(int argc, char **argv)
{
    static struct wf_error error; /* large, so not on the stack */
    struct wf_text out = {0};
    wf_terminal_begin();
    enum wf_status status = run(argc, argv, &out, &error);
    enum wf_status printed = print(&out, &error);
    if (status == WF_OK || status == WF_NO_RECIPE)
        status = printed == WF_OK ? status : printed;
    wf_terminal_complain(*error.text || status == WF_OK ? error.text : wf_status_text(status));
    if (error.hidden > 0)
        (void)fprintf(stderr, "wortfit: and %zu more\n", error.hidden);
    wf_text_free(&out);
    return wf_status_exit(status);
}
