/*
 * csv.h: tables as text, after RFC 4180: cells parted by commas, records by line ends, quotes round
 * cells that hold either. Parted by semicolons or tabs they are read too: the first record tells.
 */
#ifndef WF_CSV_H
#define WF_CSV_H

#include "wortfit/status.h"

#include <stddef.h>

struct wf_arena;

#define WF_CSV_COLUMNS_MOST 64
#define WF_CSV_RECORDS_MOST 20000

struct wf_csv_cell {
    const char *text;    /* without quotes, and without blanks round it */
    size_t line, column; /* of its first character; both count from 1, columns in code points */
};

struct wf_csv {
    struct wf_arena *arena;
    const struct wf_csv_cell *cells; /* record by record, each of `columns` */
    size_t columns, records;         /* the header is record 0 */
    char separator;
};

/*
 * Reads a table in UTF-8 (a byte order mark is skipped). Records of which all cells are empty are
 * left out. Errors are told with line and column: a record of another length than the first (all of
 * these), a quote that is out of place or never closed, control characters.
 */
enum wf_status wf_csv_parse(const char *name, const char *text, size_t length, struct wf_csv **out,
                            struct wf_error *e) WF_MUST_USE;
void wf_csv_free(struct wf_csv *c); /* NULL allowed */

#endif
