/* help.c: see help.h. */
#include "cli/help.h"

#include "base/number.h"

#include <string.h>

#define HEAD_MOST 64

size_t wf_option_head(const struct wf_option *row, char *head, size_t size)
{
    return (size_t)wf_snprintf(head, size, "--%s%s%s", row->name, row->word ? " " : "",
                               row->word ? row->word : "");
}

size_t wf_option_count(const struct wf_option *rows)
{
    size_t n = 0;
    while (rows[n].kind != WF_OPTION_END)
        n++;
    return n;
}

static size_t count_lines(const struct wf_text *text)
{
    size_t n = 0;
    for (size_t i = 0; i < text->length; i++)
        n += text->data[i] == '\n';
    return n;
}

static int widest_head(const struct wf_option *rows, size_t count)
{
    char head[HEAD_MOST];
    size_t widest = strlen("--help");
    for (size_t i = 0; i < count; i++) {
        size_t width = wf_option_head(&rows[i], head, sizeof head);
        if (width > widest)
            widest = width;
    }
    return (int)widest;
}

static void add_options(struct wf_text *out, const struct wf_option *rows, size_t count)
{
    char head[HEAD_MOST];
    int widest = widest_head(rows, count);
    for (const struct wf_option *row = rows; row < rows + count; row++) {
        wf_option_head(row, head, sizeof head);
        wf_text_add(out, "  %-*s  %s", widest, head, row->text);
        if (row->preset)
            wf_text_add(out, " (%s)", row->preset);
        wf_text_add(out, "\n");
    }
    wf_text_add(out, "  %-*s  %s\n", widest, "--help", "this page");
}

/* The rows that found no room, without their texts. */
static void add_folded(struct wf_text *out, const struct wf_command *c,
                       const struct wf_option *rows)
{
    char head[HEAD_MOST];
    size_t column = strlen("  and");
    if (rows->kind == WF_OPTION_END)
        return;
    wf_text_add(out, "  and");
    for (const struct wf_option *row = rows; row->kind != WF_OPTION_END; row++) {
        size_t width = wf_option_head(row, head, sizeof head) + strlen(" ,");
        if (column + width > WF_HELP_COLUMNS) {
            wf_text_add(out, "\n     ");
            column = strlen("     ");
        }
        wf_text_add(out, " %s%s", head, row[1].kind == WF_OPTION_END ? "" : ",");
        column += width;
    }
    wf_text_add(out, "\n      ('wortfit help %s --all' says what these do)\n", c->name);
}

static void add_examples(struct wf_text *out, const char *examples)
{
    const char *title = strchr(examples, '\n') ? "Examples:" : "Example:";
    int indent = (int)strlen(title);
    while (*examples) {
        size_t length = strcspn(examples, "\n");
        wf_text_add(out, "%-*s %.*s\n", indent, title, (int)length, examples);
        examples += length + (examples[length] == '\n');
        title = "";
    }
}

/* The page with the first `shown` options in full. */
static void add_page(struct wf_text *out, const struct wf_command *c, size_t shown)
{
    bool options = c->options[0].kind != WF_OPTION_END;
    wf_text_add(out, "Usage: wortfit %s%s%s%s\n", c->name, *c->operands ? " " : "", c->operands,
                options ? " [options]" : "");
    wf_text_add(out, "%s: %s\n%s\n", c->name, c->summary, c->about);
    add_options(out, c->options, shown);
    add_folded(out, c, c->options + shown);
    wf_text_add(out, "\n");
    add_examples(out, c->example);
}

void wf_help_command(struct wf_text *out, const struct wf_command *c, bool all)
{
    struct wf_text page = {0};
    size_t shown = wf_option_count(c->options);
    add_page(&page, c, shown);
    while (!all && shown > 0 && count_lines(&page) > WF_HELP_LINES) {
        wf_text_free(&page);
        add_page(&page, c, --shown);
    }
    if (page.failed)
        out->failed = true;
    else
        wf_text_append(out, page.data, page.length);
    wf_text_free(&page);
}

/* With room for 18 commands on a screen. */
void wf_help_all(struct wf_text *out)
{
    wf_text_add(out, "Usage: wortfit COMMAND [options]: works beer recipes out backwards\n\n");
    for (const struct wf_command *const *c = wf_commands; *c; c++)
        wf_text_add(out, "  %-10s %s\n", (*c)->name, (*c)->summary);
    wf_text_add(out,
                "\nExit status: 0 done, 1 usage, 2 bad input, 3 no recipe, 4 internal or file\n"
                "More: 'wortfit help COMMAND', 'man wortfit', 'wortfit --version'\n"
                "Example: wortfit solve amber-ale --og 1.055\n");
}
