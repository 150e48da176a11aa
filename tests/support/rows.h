/*
 * rows.h: tables of check points as files: comma-separated, the first line names the columns, a
 * field in double quotes may hold commas, lines that start with # are comments.
 */
#ifndef WF_ROWS_H
#define WF_ROWS_H

#include <stdbool.h>
#include <stddef.h>

#define ROW_COLUMNS_MOST 12

struct row {
    const char *field[ROW_COLUMNS_MOST];
    int line; /* in the file, from 1 */
};

struct rows {
    const char *column[ROW_COLUMNS_MOST];
    size_t column_count;
    struct row *row;
    size_t count;
    char *text; /* what the fields point into */
};

/* Reads the file `name` below tests/. Prints what is wrong and returns false: a row with a column
 * too few or too many, an empty field, an open quote. */
bool rows_read(const char *name, struct rows *out);
void rows_free(struct rows *r);

/* The field of a row under a column's name; the column must exist. */
const char *row_text(const struct rows *r, size_t row, const char *column);

/* Reads blank-separated numbers; returns how many, or most + 1 where the text is anything else. */
size_t row_numbers(const char *text, double *out, size_t most);

#endif
