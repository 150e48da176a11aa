/* stock_csv.c: a table of lots as changes. What its cells hold is for the reader of stores to
 * judge; here are columns and kinds. */
#include "pantry/stock_parts.h"

#include "pantry/csv.h"

#include "base/alloc.h"
#include "base/ascii.h"
#include "base/try.h"
#include "base/utf8.h"

#include <string.h>

static const char id_key[] = "id";

struct table {
    const char *name; /* of the file, safe for messages */
    const struct wf_csv *csv;
    const char *keys[WF_CSV_COLUMNS_MOST]; /* of the columns; NULL: refused */
    size_t id;                             /* column */
    struct wf_arena *arena;
    bool refused;
    struct wf_error *e;
};

static const struct wf_csv_cell *cell_at(const struct table *t, size_t record, size_t column)
{
    return &t->csv->cells[record * t->csv->columns + column];
}

/* "spring.csv:3:12: have"; NULL: out of memory. */
static const char *place_of(const struct table *t, const struct wf_csv_cell *cell, const char *key)
{
    return wf_arena_print(t->arena, "%s:%zu:%zu: %s", t->name, cell->line, cell->column, key);
}

/* ---- Columns --------------------------------------------------------------------------------- */

static size_t known_words(const char *words[WF_STOCK_KEYS_MOST + 1])
{
    words[0] = wf_stock_kind_key;
    return 1 + wf_stock_keys(words + 1);
}

static void refuse_column(struct table *t, const struct wf_csv_cell *cell)
{
    const char *words[WF_STOCK_KEYS_MOST + 1];
    char hint[WF_REASON_MAX], safe[64];
    wf_json_nearest(cell->text, words, known_words(words), hint);
    t->refused = true;
    wf_error_add(t->e, WF_BAD_INPUT, "%s:%zu:%zu: unknown column \"%s\"%s", t->name, cell->line,
                 cell->column, wf_utf8_safe(cell->text, strlen(cell->text), safe, sizeof safe),
                 hint[0] ? hint : "; columns are called as the keys of a lot in a store file are");
}

static void read_column(struct table *t, size_t column)
{
    const char *words[WF_STOCK_KEYS_MOST + 1];
    size_t count = known_words(words);
    const struct wf_csv_cell *cell = cell_at(t, 0, column);
    for (size_t i = 0; i < count && !t->keys[column]; i++)
        if (wf_ascii_same(cell->text, words[i]))
            t->keys[column] = words[i];
    const char *key = t->keys[column];
    if (!key)
        refuse_column(t, cell);
    for (size_t before = 0; key && before < column; before++)
        if (t->keys[before] == key) {
            t->refused = true;
            wf_error_add(t->e, WF_BAD_INPUT, "%s:%zu:%zu: a second column \"%s\"", t->name,
                         cell->line, cell->column, key);
        }
    if (key && strcmp(key, id_key) == 0)
        t->id = column;
}

static void read_header(struct table *t)
{
    t->id = t->csv->columns;
    for (size_t column = 0; column < t->csv->columns; column++)
        read_column(t, column);
    if (t->id < t->csv->columns || t->refused)
        return;
    t->refused = true;
    wf_error_add(t->e, WF_BAD_INPUT, "%s:%zu:1: no column \"id\", which says which lot it is",
                 t->name, cell_at(t, 0, 0)->line);
}

/* ---- Lines ----------------------------------------------------------------------------------- */

static enum wf_status read_line(struct table *t, size_t record, struct wf_stock_change *out)
{
    const struct wf_csv_cell *id = cell_at(t, record, t->id);
    struct wf_stock_field *fields = wf_arena_alloc(t->arena, t->csv->columns, sizeof *fields);
    *out = (struct wf_stock_change){.deed = WF_STOCK_PUT,
                                    .kind = WF_KIND_COUNT,
                                    .id = wf_arena_string(t->arena, id->text),
                                    .place = place_of(t, id, id_key),
                                    .fields = fields};
    if (!out->id || !out->place || !fields)
        return WF_MEMORY;
    for (size_t column = 0; column < t->csv->columns; column++) {
        const struct wf_csv_cell *cell = cell_at(t, record, column);
        if (column == t->id || *cell->text == '\0')
            continue;
        struct wf_stock_field *f = &fields[out->field_count++];
        f->key = t->keys[column];
        f->text = wf_arena_string(t->arena, cell->text);
        f->place = place_of(t, cell, f->key);
        if (!f->text || !f->place)
            return WF_MEMORY;
    }
    return WF_OK;
}

static enum wf_status read_lines(struct table *t, struct wf_stock_changes *out)
{
    size_t count = t->csv->records - 1;
    struct wf_stock_change *changes = wf_arena_alloc(t->arena, count, sizeof *changes);
    if (!changes)
        return WF_MEMORY;
    for (size_t i = 0; i < count; i++)
        WF_TRY(read_line(t, i + 1, &changes[i]));
    out->changes = changes;
    out->count = count;
    return WF_OK;
}

/* ---- The whole ------------------------------------------------------------------------------- */

static enum wf_status fill(struct wf_stock_changes *s, const char *name, const struct wf_csv *csv,
                           struct wf_error *e)
{
    char safe[1024];
    wf_utf8_safe(name, strlen(name), safe, sizeof safe);
    struct table t = {.name = safe, .csv = csv, .arena = s->arena, .e = e};
    read_header(&t);
    enum wf_status status = t.refused ? WF_BAD_INPUT : read_lines(&t, s);
    if (status == WF_MEMORY)
        return wf_error_add(e, WF_MEMORY, "out of memory while reading %s", safe);
    return status;
}

enum wf_status wf_stock_read_csv(const char *name, const char *text, size_t length,
                                 struct wf_stock_changes **out, struct wf_error *e)
{
    struct wf_csv *csv = NULL;
    *out = NULL;
    WF_TRY(wf_csv_parse(name, text, length, &csv, e));
    struct wf_stock_changes *s = wf_stock_changes_new();
    enum wf_status status = s ? fill(s, name, csv, e)
                              : wf_error_add(e, WF_MEMORY, "out of memory while reading %s", name);
    wf_csv_free(csv);
    if (status == WF_OK)
        *out = s;
    else
        wf_stock_changes_free(s);
    return status;
}
