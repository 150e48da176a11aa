/*
 * table.h: rows of cells printed in aligned columns. Cells are given row after row; each is made
 * safe for a terminal. As in wf_text, failure is sticky and told by the text that the table is
 * written to.
 */
#ifndef WF_TABLE_H
#define WF_TABLE_H

#include "report/style.h"

#include <stdbool.h>
#include <stddef.h>

#define WF_COLUMNS_MOST 16

struct wf_column {
    const char *title; /* written by wf_table_titles */
    bool right;        /* aligned to the right: figures */
    size_t most;       /* code points; longer cells are cut and end in ".."; 0: no limit */
};

struct wf_cell {
    char *text;
    size_t width; /* code points */
    enum wf_mark mark;
};

/* Begin with {.columns = c, .column_count = WF_COUNT_OF(c)}. */
struct wf_table {
    const struct wf_column *columns;
    size_t column_count; /* at most WF_COLUMNS_MOST */
    struct wf_cell *cells;
    size_t count, capacity;
    bool failed; /* memory ran out */
};

/* Adds a row of the columns' titles. */
void wf_table_titles(struct wf_table *t);
/* Adds the next cell. */
void wf_table_cell(struct wf_table *t, const char *format, ...)
    __attribute__((format(printf, 2, 3)));
void wf_table_mark(struct wf_table *t, enum wf_mark mark); /* of the cell added last */
/* Adds the next cell: a figure in the wanted units; NaN is written "-". */
void wf_table_figure(struct wf_table *t, enum wf_dimension d, double value, enum wf_units units);

/* Writes the table, each line after `indent` spaces and without spaces at its end, and frees it. */
void wf_table_write(struct wf_table *t, const struct wf_report_style *s, size_t indent,
                    struct wf_text *out);
/* Frees the cells of a table that is not written, and empties it. */
void wf_table_clear(struct wf_table *t);

#endif
