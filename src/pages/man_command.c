/* man_command.c: the manual page of a command, out of its row. */
#include "pages/pages.h"

#include <string.h>

static void add_name(struct wf_text *out, const char *name, const char *word)
{
    wf_text_add(out, "\\fB\\-\\-");
    wf_man_text(out, name);
    wf_text_add(out, "\\fR");
    if (word) {
        wf_text_add(out, " \\fI");
        wf_man_text(out, word);
        wf_text_add(out, "\\fR");
    }
}

static void add_words(struct wf_text *out, const struct wf_option *row)
{
    wf_text_add(out, row->many ? "Any of these, parted by commas:" : "One of:");
    for (const char *const *w = row->words; *w; w++) {
        wf_text_add(out, " \\fB");
        wf_man_text(out, *w);
        wf_text_add(out, "\\fR%s", w[1] ? "," : ".\n");
    }
}

/* What the help page has no room for. */
static void add_particulars(struct wf_text *out, const struct wf_option *row)
{
    if (row->words)
        add_words(out, row);
    if (row->without_end) {
        wf_text_add(out, "Or the word \\fB");
        wf_man_text(out, row->without_end);
        wf_text_add(out, "\\fR.\n");
    }
    if (row->limits) {
        wf_text_add(out, "From ");
        wf_man_text(out, row->limits);
        wf_text_add(out, ".\n");
    }
    if (row->kind == WF_OPTION_DATE)
        wf_text_add(out, "A day is written as 2026\\-11\\-25.\n");
    if (row->preset) {
        wf_text_add(out, "Where it is not given: \\fB");
        wf_man_text(out, row->preset);
        wf_text_add(out, "\\fR.\n");
    }
}

static void add_option(struct wf_text *out, const struct wf_option *row)
{
    wf_text_add(out, ".TP\n");
    add_name(out, row->name, row->word);
    if (row->also) {
        wf_text_add(out, ", ");
        add_name(out, row->also, row->word);
    }
    wf_text_add(out, "\n");
    wf_man_sentence(out, row->text);
    add_particulars(out, row);
}

static void add_synopsis(struct wf_text *out, const struct wf_command *c)
{
    wf_man_section(out, "SYNOPSIS");
    wf_text_add(out, ".B wortfit %s\n", c->name);
    if (*c->operands) {
        wf_man_text(out, c->operands);
        wf_text_add(out, "\n");
    }
    wf_text_add(out, "[options]\n");
}

static void add_description(struct wf_text *out, const struct wf_command *c)
{
    wf_man_section(out, "DESCRIPTION");
    wf_man_sentence(out, c->summary);
    if (*c->about) {
        wf_text_add(out, ".PP\n");
        wf_man_text(out, c->about);
    }
    wf_text_add(out, ".PP\nResults go to standard output, all else to standard error.\n");
}

static void add_options(struct wf_text *out, const struct wf_command *c)
{
    wf_man_section(out, "OPTIONS");
    wf_text_add(out, "A value follows its option, after a blank or a \\(oq=\\(cq.\n"
                     "Values with blanks or with < and > need quotes.\n");
    for (const struct wf_option *row = c->options; row->kind != WF_OPTION_END; row++)
        add_option(out, row);
    wf_text_add(out, ".TP\n\\fB\\-\\-help\\fR\nA short page of help.\n");
}

void wf_man_command(struct wf_text *out, const struct wf_command *c)
{
    struct wf_text page = {0};
    wf_text_add(&page, "wortfit-%s", c->name);
    wf_man_head(out, page.failed ? "wortfit" : page.data, 1, c->summary);
    wf_text_free(&page);
    add_synopsis(out, c);
    add_description(out, c);
    add_options(out, c);
    wf_man_section(out, "EXIT STATUS");
    wf_text_add(out, "0 done, 1 wrong usage, 2 bad input, 3 no recipe exists or a wish is missed,\n"
                     "4 internal or file error.\n");
    wf_man_section(out, "EXAMPLES");
    wf_text_add(out, ".nf\n");
    wf_man_text(out, c->example);
    wf_text_add(out, "\n.fi\n");
    wf_man_section(out, "SEE ALSO");
    wf_text_add(out, ".BR wortfit (1)\n");
}
