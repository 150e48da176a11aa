/* completion.c: the tables of commands, options and operands for shells. */
#include "pages/pages.h"

#include "base/number.h"
#include "base/try.h"

#define KEY_MOST 128

/* One row a command: its options, each "name:text" on a line. */
static void add_option_names(struct wf_text *out, enum wf_shell shell)
{
    wf_shell_open(out, shell, "_wortfit_options");
    for (const struct wf_command *const *c = wf_commands; *c; c++) {
        struct wf_text names = {0};
        for (const struct wf_option *row = (*c)->options; row->kind != WF_OPTION_END; row++)
            wf_text_add(&names, "--%s:%s\n", row->name, row->text);
        wf_text_add(&names, "--help:a short page of help");
        wf_shell_row(out, shell, (*c)->name, names.failed ? "" : names.data);
        out->failed |= names.failed;
        wf_text_free(&names);
    }
    wf_shell_close(out, shell);
}

static void add_option(struct wf_text *out, enum wf_shell shell, const struct wf_command *c,
                       const struct wf_option *row)
{
    char key[KEY_MOST];
    struct wf_text takes = {0};
    wf_takes_option(&takes, c, row);
    wf_snprintf(key, sizeof key, "%s %s", c->name, row->name);
    wf_shell_row(out, shell, key, takes.failed ? "" : takes.data);
    if (row->also) {
        wf_snprintf(key, sizeof key, "%s %s", c->name, row->also);
        wf_shell_row(out, shell, key, takes.failed ? "" : takes.data);
    }
    out->failed |= takes.failed;
    wf_text_free(&takes);
}

static void add_options(struct wf_text *out, enum wf_shell shell)
{
    wf_shell_open(out, shell, "_wortfit_option");
    for (const struct wf_command *const *c = wf_commands; *c; c++)
        for (const struct wf_option *row = (*c)->options; row->kind != WF_OPTION_END; row++)
            add_option(out, shell, *c, row);
    wf_shell_close(out, shell);
}

static void add_operands(struct wf_text *out, enum wf_shell shell)
{
    struct wf_takes_operand rows[WF_TAKES_MOST];
    char key[KEY_MOST];
    wf_shell_open(out, shell, "_wortfit_operand");
    for (const struct wf_command *const *c = wf_commands; *c; c++) {
        size_t count = wf_takes_operands(*c, rows);
        for (size_t i = 0; i < count; i++) {
            wf_snprintf(key, sizeof key, "%s %s", (*c)->name, rows[i].key);
            wf_shell_row(out, shell, key, rows[i].what);
        }
    }
    wf_shell_close(out, shell);
}

/* One row: the commands, each "name:text" on a line. */
static void add_commands(struct wf_text *out, enum wf_shell shell)
{
    struct wf_text names = {0};
    for (const struct wf_command *const *c = wf_commands; *c; c++)
        wf_text_add(&names, "%s%s:%s", c == wf_commands ? "" : "\n", (*c)->name, (*c)->summary);
    wf_shell_open(out, shell, "_wortfit_commands");
    wf_shell_row(out, shell, "all", names.failed ? "" : names.data);
    wf_shell_close(out, shell);
    out->failed |= names.failed;
    wf_text_free(&names);
}

enum wf_status wf_completion_tables(struct wf_text *out, enum wf_shell shell, struct wf_error *e)
{
    add_commands(out, shell);
    add_option_names(out, shell);
    add_options(out, shell);
    add_operands(out, shell);
    WF_TRY(wf_word_lists(out, shell, e));
    return out->failed ? wf_error_add(e, WF_MEMORY, "out of memory") : WF_OK;
}
