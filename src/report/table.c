/* table.c: see table.h. Widths are known only once all cells are, so cells are kept until then. */
#include "report/table.h"

#include "base/alloc.h"
#include "base/number.h"
#include "base/utf8.h"

#include <stdarg.h>
#include <string.h>

#define GAP 2 /* spaces between columns */

static bool reserve(struct wf_table *t)
{
    if (t->count < t->capacity)
        return true;
    size_t capacity = t->capacity ? 2 * t->capacity : 64;
    struct wf_cell *cells = wf_realloc(t->cells, capacity, sizeof *cells);
    if (!cells)
        return false;
    t->cells = cells;
    t->capacity = capacity;
    return true;
}

/* Offset of the code point `points` along, or of the end. */
static size_t offset_of_point(const char *text, size_t length, size_t points)
{
    size_t at = 0;
    while (at < length && points-- > 0)
        at += wf_utf8_sequence((const unsigned char *)text + at, length - at);
    return at;
}

static void add_cell(struct wf_table *t, const char *safe)
{
    size_t most = t->columns[t->count % t->column_count].most;
    size_t length = strlen(safe), width = wf_utf8_count(safe, length);
    bool cut = most > 0 && width > most;
    if (cut) {
        length = offset_of_point(safe, length, most - 2);
        width = most;
    }
    char *text = t->failed || !reserve(t) ? NULL : wf_alloc(length + 3, 1);
    if (!text) {
        t->failed = true;
        return;
    }
    memcpy(text, safe, length);
    if (cut)
        memcpy(text + length, "..", 2);
    t->cells[t->count++] = (struct wf_cell){.text = text, .width = width};
}

void wf_table_cell(struct wf_table *t, const char *format, ...)
{
    char raw[WF_PLAIN_MOST] = "", safe[WF_PLAIN_MOST];
    va_list args;
    va_start(args, format);
    wf_vsnprintf(raw, sizeof raw, format, args);
    va_end(args);
    add_cell(t, wf_utf8_safe(raw, strlen(raw), safe, sizeof safe));
}

void wf_table_mark(struct wf_table *t, enum wf_mark mark)
{
    if (t->count > 0)
        t->cells[t->count - 1].mark = mark;
}

void wf_table_figure(struct wf_table *t, enum wf_dimension d, double value, enum wf_units units)
{
    char text[64];
    wf_table_cell(t, "%s", wf_style_figure(d, value, units, text, sizeof text));
}

void wf_table_titles(struct wf_table *t)
{
    for (size_t c = 0; c < t->column_count; c++) {
        wf_table_cell(t, "%s", t->columns[c].title);
        wf_table_mark(t, WF_MARK_STRONG);
    }
}

static size_t column_width(const struct wf_table *t, size_t column)
{
    size_t width = 0;
    for (size_t i = column; i < t->count; i += t->column_count)
        if (t->cells[i].width > width)
            width = t->cells[i].width;
    return width;
}

/* One line of cells. Spaces are owed until a cell follows them, so that none end a line. */
static void write_line(const struct wf_table *t, const struct wf_cell *cells, const size_t *widths,
                       const struct wf_report_style *s, size_t indent, struct wf_text *out)
{
    size_t owed = indent;
    for (size_t c = 0; c < t->column_count; c++) {
        const struct wf_cell *cell = &cells[c];
        size_t pad = widths[c] - cell->width;
        bool right = t->columns[c].right;
        if (cell->width > 0) {
            wf_text_add(out, "%*s%s%s%s", (int)(owed + (right ? pad : 0)), "",
                        wf_style_on(s, cell->mark), cell->text, wf_style_off(s, cell->mark));
            owed = GAP + (right ? 0 : pad);
        } else {
            owed += pad + GAP;
        }
    }
    wf_text_add(out, "\n");
}

void wf_table_clear(struct wf_table *t)
{
    for (size_t i = 0; i < t->count; i++)
        wf_free(t->cells[i].text);
    wf_free(t->cells);
    *t = (struct wf_table){.columns = t->columns, .column_count = t->column_count};
}

void wf_table_write(struct wf_table *t, const struct wf_report_style *s, size_t indent,
                    struct wf_text *out)
{
    size_t widths[WF_COLUMNS_MOST];
    out->failed = out->failed || t->failed;
    for (size_t c = 0; c < t->column_count; c++)
        widths[c] = column_width(t, c);
    for (size_t i = 0; !t->failed && i + t->column_count <= t->count; i += t->column_count)
        write_line(t, &t->cells[i], widths, s, indent, out);
    wf_table_clear(t);
}
