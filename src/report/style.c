/* style.c: see style.h. */
#include "report/style.h"

#include "base/number.h"
#include "base/utf8.h"

#include <math.h>
#include <string.h>

static const char *const escape[WF_MARK_COUNT] = {
    [WF_MARK_NONE] = "",
    [WF_MARK_STRONG] = "\033[1m",
    [WF_MARK_GOOD] = "\033[32m",
    [WF_MARK_BAD] = "\033[1;31m",
};

const char *wf_style_on(const struct wf_report_style *s, enum wf_mark mark)
{
    return s->colour ? escape[mark] : "";
}

const char *wf_style_off(const struct wf_report_style *s, enum wf_mark mark)
{
    return s->colour && mark != WF_MARK_NONE ? "\033[0m" : "";
}

void wf_plain_add(struct wf_text *out, const char *text)
{
    char safe[WF_PLAIN_MOST];
    if (text)
        wf_text_add(out, "%s", wf_utf8_safe(text, strlen(text), safe, sizeof safe));
}

/* To two decimals at most. */
static double shortened(double value)
{
    return round(value * 100) / 100;
}

char *wf_style_figure(enum wf_dimension d, double value, enum wf_units units, char *buffer,
                      size_t size)
{
    if (d != WF_DIM_NUMBER || !isfinite(value))
        return wf_quantity_print(d, value, units, buffer, size);
    wf_snprintf(buffer, size, "%g", shortened(value));
    return buffer;
}

char *wf_style_range(enum wf_dimension d, struct wf_range r, enum wf_units units, char *buffer,
                     size_t size)
{
    if (d != WF_DIM_NUMBER || wf_range_is_any(r))
        return wf_range_print(d, r, units, buffer, size);
    if (isinf(r.high))
        wf_snprintf(buffer, size, ">= %g", shortened(r.low));
    else if (isinf(r.low))
        wf_snprintf(buffer, size, "<= %g", shortened(r.high));
    else if (r.low == r.high)
        wf_snprintf(buffer, size, "%g", shortened(r.low));
    else
        wf_snprintf(buffer, size, "%g..%g", shortened(r.low), shortened(r.high));
    return buffer;
}

void wf_style_line(struct wf_text *out, const struct wf_report_style *s, enum wf_mark mark,
                   const char *line)
{
    wf_text_add(out, "%s", wf_style_on(s, mark));
    wf_plain_add(out, line);
    wf_text_add(out, "%s\n", wf_style_off(s, mark));
}

void wf_style_wrap(struct wf_text *out, const char *text, size_t width)
{
    char safe[WF_PLAIN_MOST];
    size_t column = 0;
    const char *word = wf_utf8_safe(text, strlen(text), safe, sizeof safe);
    while (*(word += strspn(word, " "))) {
        size_t bytes = strcspn(word, " ");
        size_t points = wf_utf8_count(word, bytes);
        bool fits = column == 0 || column + 1 + points <= width;
        wf_text_add(out, "%s", column == 0 ? "" : fits ? " " : "\n");
        wf_text_append(out, word, bytes);
        column = fits && column > 0 ? column + 1 + points : points;
        word += bytes;
    }
    wf_text_add(out, "\n");
}

void wf_style_labelled(struct wf_text *out, const struct wf_report_style *s, enum wf_mark mark,
                       const char *label, size_t width, const char *value)
{
    struct wf_text wrapped = {0};
    const char *head = label;
    wf_style_wrap(&wrapped, value, WF_PAGE_WIDTH - width - 2);
    out->failed = out->failed || wrapped.failed;
    for (char *line = wrapped.failed ? NULL : wrapped.data, *end; line && *line;
         line = end + 1, head = "") {
        end = strchr(line, '\n');
        wf_text_add(out, "%s%-*s%s  %.*s\n", wf_style_on(s, mark), (int)width, head,
                    wf_style_off(s, mark), (int)(end - line), line);
    }
    wf_text_free(&wrapped);
}

enum wf_status wf_text_hand_over(struct wf_text *t, char **out, struct wf_error *e)
{
    wf_text_add(t, "%s", ""); /* an empty report is "", not NULL */
    if (t->failed) {
        wf_text_free(t);
        return wf_error_add(e, WF_MEMORY, "out of memory while writing the report");
    }
    *out = t->data;
    *t = (struct wf_text){0};
    return WF_OK;
}
