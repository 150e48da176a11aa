/* help.c: see help.h. */
#include "cli/help.h"

#include "base/number.h"
#include "wortfit/wortfit.h"

#include <string.h>

/* "--colour RANGE" into head; returns its width. */
static int option_head(const struct wf_option *row, char *head, size_t size)
{
    return wf_snprintf(head, size, "--%s%s%s", row->name, row->word ? " " : "",
                       row->word ? row->word : "");
}

static int widest_head(const struct wf_option *rows)
{
    char head[64];
    int widest = (int)strlen("--help");
    for (const struct wf_option *row = rows; row->kind != WF_OPTION_END; row++) {
        int width = option_head(row, head, sizeof head);
        if (width > widest)
            widest = width;
    }
    return widest;
}

static void add_options(struct wf_text *out, const struct wf_option *rows)
{
    char head[64];
    int widest = widest_head(rows);
    for (const struct wf_option *row = rows; row->kind != WF_OPTION_END; row++) {
        option_head(row, head, sizeof head);
        wf_text_add(out, "  %-*s  %s", widest, head, row->text);
        if (row->preset)
            wf_text_add(out, " (%s)", row->preset);
        wf_text_add(out, "\n");
    }
    wf_text_add(out, "  %-*s  %s\n", widest, "--help", "this page");
}

void wf_help_command(struct wf_text *out, const struct wf_command *c)
{
    bool options = c->options[0].kind != WF_OPTION_END;
    wf_text_add(out, "Usage: wortfit %s%s%s%s\n", c->name, *c->operands ? " " : "", c->operands,
                options ? " [options]" : "");
    wf_text_add(out, "%s: %s\n%s\n", c->name, c->summary, c->about);
    add_options(out, c->options);
    wf_text_add(out, "\nExample: %s\n", c->example);
}

void wf_help_all(struct wf_text *out)
{
    wf_text_add(out,
                "wortfit %s works beer recipes out backwards: from the beer that you want\n"
                "and what is in the store to the grain and hop weights that give it.\n\n"
                "Usage: wortfit COMMAND [options]\n\n",
                WF_VERSION);
    for (const struct wf_command *const *c = wf_commands; *c; c++)
        wf_text_add(out, "  %-8s %s\n", (*c)->name, (*c)->summary);
    wf_text_add(out,
                "\n'wortfit help COMMAND' says more, 'wortfit --version' which one this is.\n"
                "Exit status: 0 done, 1 wrong usage, 2 bad input, 3 no recipe exists,\n"
                "4 internal or file error.\n\n"
                "Example: %s\n",
                wf_commands[0]->example);
}
