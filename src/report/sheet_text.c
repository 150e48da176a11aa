/* sheet_text.c: a sheet as text for a terminal or a plain printer. */
#include "report/sheet.h"

#include "base/number.h"

#define LABEL_WIDTH 7

static void begin(struct wf_sheet *s, const char *title)
{
    wf_style_line(s->out, s->style, WF_MARK_STRONG, title);
}

static void section(struct wf_sheet *s, const char *title)
{
    char line[120];
    wf_snprintf(line, sizeof line, "%zu  %s", ++s->section_count, title);
    wf_text_add(s->out, "\n");
    wf_style_line(s->out, s->style, WF_MARK_STRONG, line);
}

static void line(struct wf_sheet *s, enum wf_line kind, const char *text)
{
    static const struct {
        const char *label;
        int width;
        enum wf_mark mark;
    } form[WF_LINE_COUNT] = {
        [WF_LINE_TICK] = {"[ ]", 3, WF_MARK_NONE},
        [WF_LINE_READ] = {"Read", LABEL_WIDTH, WF_MARK_GOOD},
        [WF_LINE_CAUTION] = {"Caution", LABEL_WIDTH, WF_MARK_BAD},
    };
    if (!form[kind].label) {
        wf_style_wrap(s->out, text, WF_PAGE_WIDTH);
        return;
    }
    char read[WF_PLAIN_MOST];
    wf_snprintf(read, sizeof read, "%s%s", text, kind == WF_LINE_READ ? "; got ________" : "");
    wf_style_labelled(s->out, s->style, form[kind].mark, form[kind].label, (size_t)form[kind].width,
                      read);
}

static void table(struct wf_sheet *s, struct wf_table *t, const char *caption)
{
    (void)caption; /* what stands before the table says as much */
    wf_table_write(t, s->style, 2, s->out);
}

static void end(struct wf_sheet *s)
{
    (void)s;
}

const struct wf_sheet_form wf_sheet_text = {
    .begin = begin, .section = section, .line = line, .table = table, .end = end};
