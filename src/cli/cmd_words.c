/* cmd_words.c: wortfit words: the vocabulary of character. */
#include "cli/command.h"
#include "cli/terminal.h"
#include "report/report_list.h"
#include "wortfit/wortfit.h"

#include <string.h>

struct words_options {
    bool json;
};

static const struct wf_option rows[] = {
    {.name = "json",
     .kind = WF_OPTION_FLAG,
     .offset = offsetof(struct words_options, json),
     .text = "for programs"},
    {.kind = WF_OPTION_END},
};

static enum wf_status run(const struct wf_call *call, struct wf_text *out, struct wf_error *e)
{
    const struct words_options *o = call->options;
    struct wf_report_style style = {.colour = wf_terminal_colour()};
    char *text = NULL;
    enum wf_status status =
        o->json ? wf_report_words_json(&text, e) : wf_report_words_text(&style, &text, e);
    if (status == WF_OK)
        wf_text_append(out, text, strlen(text));
    wf_text_release(text);
    return status;
}

const struct wf_command wf_command_words = {
    .name = "words",
    .operands = "",
    .summary = "list the words of character that targets and lists know",
    .about = "Scores of one ingredient go from 0 to 5. In a target a word stands for an\n"
             "index of the whole beer: see 'Character' in README.md. The index is our own.\n",
    .example = "wortfit words",
    .options = rows,
    .options_size = sizeof(struct words_options),
    .run = run,
};
