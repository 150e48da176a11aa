/* man.c: what all manual pages share. */
#include "pages/pages.h"

#include <string.h>

/* Every hyphen is a minus, so that what is copied from a page works on a command line. */
void wf_man_text(struct wf_text *out, const char *text)
{
    bool starts = out->length == 0 || out->data[out->length - 1] == '\n';
    for (; *text; text++) {
        if (starts && (*text == '.' || *text == '\''))
            wf_text_add(out, "\\&");
        if (*text == '\\')
            wf_text_add(out, "\\e");
        else if (*text == '-')
            wf_text_add(out, "\\-");
        else
            wf_text_append(out, text, 1);
        starts = *text == '\n';
    }
}

void wf_man_sentence(struct wf_text *out, const char *text)
{
    char first[2] = {text[0], '\0'};
    if (first[0] >= 'a' && first[0] <= 'z')
        first[0] = (char)(first[0] - 'a' + 'A');
    wf_man_text(out, first);
    wf_man_text(out, *text ? text + 1 : text);
    wf_text_add(out, ".\n");
}

void wf_man_section(struct wf_text *out, const char *title)
{
    wf_text_add(out, ".SH %s\n", title);
}

static void add_capitals(struct wf_text *out, const char *text)
{
    for (; *text; text++) {
        char c = *text >= 'a' && *text <= 'z' ? (char)(*text - 'a' + 'A') : *text;
        if (c == '-')
            wf_text_add(out, "\\-");
        else
            wf_text_append(out, &c, 1);
    }
}

/* No date: the same sources make the same page. */
void wf_man_head(struct wf_text *out, const char *page, int section, const char *what)
{
    wf_text_add(out, ".\\\" Made by the build; do not edit.\n.TH ");
    add_capitals(out, page);
    wf_text_add(out, " %d \"\" \"wortfit %s\" \"wortfit\"\n", section, WF_VERSION);
    wf_man_section(out, "NAME");
    wf_man_text(out, page);
    wf_text_add(out, " \\- ");
    wf_man_text(out, what);
    wf_text_add(out, "\n");
}
