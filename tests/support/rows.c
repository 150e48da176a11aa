/* rows.c: a small reader of comma-separated tables, in place. */
#include "support/rows.h"

#include "base/number.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

static char *read_text(const char *path)
{
    FILE *f = fopen(path, "rb");
    char *text = NULL;
    if (f && fseek(f, 0, SEEK_END) == 0) {
        long size = ftell(f);
        text = size < 0 ? NULL : calloc((size_t)size + 1, 1);
        rewind(f);
        if (text && fread(text, 1, (size_t)size, f) != (size_t)size) {
            free(text);
            text = NULL;
        }
    }
    if (f)
        fclose(f);
    return text;
}

/* Cuts one field off at *p and moves *p behind its comma; NULL where it is empty or badly quoted.
 */
static char *cut_field(char **p)
{
    char *start = *p, *end;
    if (*start == '"') {
        end = strchr(++start, '"');
        if (!end || (end[1] != ',' && end[1] != '\0'))
            return NULL;
        *end++ = '\0';
    } else {
        end = start + strcspn(start, ",");
    }
    *p = *end == ',' ? end + 1 : NULL;
    *end = '\0';
    return *start ? start : NULL;
}

/* Cuts a line into fields; 0 where one is not good or there are too many. */
static size_t cut_line(char *line, const char *field[ROW_COLUMNS_MOST])
{
    size_t count = 0;
    for (char *p = line; p;) {
        if (count == ROW_COLUMNS_MOST || !(field[count] = cut_field(&p)))
            return 0;
        count++;
    }
    return count;
}

static bool add_line(struct rows *r, char *line, int number)
{
    if (r->column_count == 0)
        return (r->column_count = cut_line(line, r->column)) > 0;
    struct row *grown = realloc(r->row, (r->count + 1) * sizeof *grown);
    if (!grown)
        return false;
    r->row = grown;
    grown[r->count].line = number;
    return cut_line(line, grown[r->count++].field) == r->column_count;
}

bool rows_read(const char *name, struct rows *out)
{
    char path[512];
    int number = 1;
    *out = (struct rows){0};
    snprintf(path, sizeof path, "%s/tests/%s", WF_SOURCE_DIR, name);
    out->text = read_text(path);
    if (!out->text)
        printf("%s: cannot be read\n", path);
    for (char *line = out->text, *next; line; line = next, number++) {
        size_t length = strcspn(line, "\n");
        next = line[length] ? line + length + 1 : NULL;
        line[length] = '\0';
        if (length > 0 && line[0] != '#' && !add_line(out, line, number)) {
            printf("%s:%d: not one good field a column\n", path, number);
            rows_free(out);
            return false;
        }
    }
    return out->text && out->count > 0;
}

void rows_free(struct rows *r)
{
    free(r->row);
    free(r->text);
    *r = (struct rows){0};
}

const char *row_text(const struct rows *r, size_t row, const char *column)
{
    for (size_t i = 0; i < r->column_count; i++)
        if (strcmp(r->column[i], column) == 0)
            return r->row[row].field[i];
    printf("there is no column %s\n", column);
    abort();
}

size_t row_numbers(const char *text, double *out, size_t most)
{
    size_t count = 0;
    while (*text) {
        const char *end;
        double value;
        if (count == most || !wf_number_parse(text, &end, &value) || (*end != ' ' && *end != '\0'))
            return most + 1;
        out[count++] = value;
        text = end + strspn(end, " ");
    }
    return count;
}
