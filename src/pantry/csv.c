/* csv.c: see csv.h. One walk; each cell knows its place. */
#include "pantry/csv.h"

#include "base/alloc.h"
#include "base/ascii.h"
#include "base/text.h"
#include "base/utf8.h"

#include <stdbool.h>
#include <string.h>

#define TEXT_OF_TOKEN(x) #x
#define TEXT_OF(x)       TEXT_OF_TOKEN(x)

struct walk {
    const char *name, *text;
    size_t at, length;
    size_t line, column; /* of `at` */
    char separator;
    struct wf_csv *out;
    struct wf_csv_cell *cells;
    size_t count, capacity;
    enum wf_status status;
    struct wf_error *e;
};

/* ---- Failure --------------------------------------------------------------------------------- */

static bool fail(struct walk *w, size_t line, size_t column, const char *why)
{
    w->status = wf_error_add(w->e, WF_BAD_INPUT, "%s:%zu:%zu: %s", w->name, line, column, why);
    return false;
}

static bool fail_here(struct walk *w, const char *why)
{
    return fail(w, w->line, w->column, why);
}

static bool fail_memory(struct walk *w)
{
    w->status = wf_error_add(w->e, WF_MEMORY, "out of memory while reading %s", w->name);
    return false;
}

/* ---- Characters ------------------------------------------------------------------------------ */

static bool at_end(const struct walk *w)
{
    return w->at == w->length;
}

static bool at_line_end(const struct walk *w)
{
    return at_end(w) || w->text[w->at] == '\n' ||
           (w->text[w->at] == '\r' && w->at + 1 < w->length && w->text[w->at + 1] == '\n');
}

static void pass_line_end(struct walk *w)
{
    w->at += w->text[w->at] == '\r' ? 2 : 1;
    w->line++;
    w->column = 1;
}

/* Passes one character of a cell; false if it is none. */
static bool pass_character(struct walk *w)
{
    const unsigned char *p = (const unsigned char *)w->text + w->at;
    size_t n = wf_utf8_sequence(p, w->length - w->at);
    if (n == 0)
        return fail_here(w, "a byte that is not UTF-8; save the file as UTF-8");
    if ((*p < 0x20 && *p != '\t') || *p == 0x7F)
        return fail_here(w, "a control character; a table is plain text");
    w->at += n;
    w->column++;
    return true;
}

/* ---- Cells ----------------------------------------------------------------------------------- */

/* The blanks at the ends of a cell say nothing. */
static bool add_cell(struct walk *w, const char *text, size_t length, size_t line, size_t column)
{
    while (length > 0 && wf_ascii_blank(*text)) {
        text++;
        length--;
    }
    while (length > 0 && wf_ascii_blank(text[length - 1]))
        length--;
    if (w->count == w->capacity) {
        size_t capacity = w->capacity ? 2 * w->capacity : 64;
        struct wf_csv_cell *cells = wf_realloc(w->cells, capacity, sizeof *cells);
        if (!cells)
            return fail_memory(w);
        w->cells = cells;
        w->capacity = capacity;
    }
    const char *copy = wf_arena_copy(w->out->arena, text, length);
    if (!copy)
        return fail_memory(w);
    w->cells[w->count++] = (struct wf_csv_cell){copy, line, column};
    return true;
}

static bool read_plain(struct walk *w)
{
    size_t from = w->at, column = w->column;
    while (!at_line_end(w) && w->text[w->at] != w->separator) {
        if (w->text[w->at] == '"')
            return fail_here(w, "a quote inside a cell; such a cell is quoted as a whole, and each "
                                "quote in it written twice");
        if (!pass_character(w))
            return false;
    }
    return add_cell(w, w->text + from, w->at - from, w->line, column);
}

/* Up to the closing quote, which is passed. */
static bool read_between_quotes(struct walk *w, struct wf_text *cell)
{
    size_t line = w->line, column = w->column;
    w->at++;
    w->column++;
    for (;;) {
        size_t from = w->at;
        if (at_end(w))
            return fail(w, line, column, "this quote is never closed");
        if (w->text[w->at] == '"') {
            w->at++;
            w->column++;
            if (at_end(w) || w->text[w->at] != '"')
                return true;
            w->at++; /* the second of a pair, which stands for one */
            w->column++;
            wf_text_append(cell, "\"", 1);
            continue;
        }
        if (at_line_end(w))
            pass_line_end(w);
        else if (!pass_character(w))
            return false;
        wf_text_append(cell, w->text + from, w->at - from);
    }
}

static void pass_blanks(struct walk *w)
{
    while (!at_end(w) && w->text[w->at] == ' ') {
        w->at++;
        w->column++;
    }
}

static bool read_quoted(struct walk *w)
{
    struct wf_text cell = {0};
    size_t line = w->line, column = w->column;
    wf_text_append(&cell, "", 0);
    bool good = read_between_quotes(w, &cell);
    pass_blanks(w);
    if (good && !at_line_end(w) && w->text[w->at] != w->separator)
        good = fail_here(w, "text behind the closing quote of a cell");
    if (good)
        good = cell.failed ? fail_memory(w) : add_cell(w, cell.data, cell.length, line, column);
    wf_text_free(&cell);
    return good;
}

/* ---- Records --------------------------------------------------------------------------------- */

static bool is_empty(const struct walk *w, size_t from)
{
    for (size_t i = from; i < w->count; i++)
        if (*w->cells[i].text)
            return false;
    return true;
}

/* Keeps the record whose cells are those from `from` on, or leaves it out. */
static bool end_record(struct walk *w, size_t from, size_t line)
{
    struct wf_csv *c = w->out;
    size_t cells = w->count - from;
    if (is_empty(w, from)) {
        w->count = from;
        return true;
    }
    if (c->records == 0)
        c->columns = cells;
    if (cells > WF_CSV_COLUMNS_MOST)
        return fail(w, line, 1, "more than " TEXT_OF(WF_CSV_COLUMNS_MOST) " columns");
    if (c->records == WF_CSV_RECORDS_MOST)
        return fail(w, line, 1, "more than " TEXT_OF(WF_CSV_RECORDS_MOST) " lines");
    if (cells != c->columns) {
        w->status = wf_error_add(w->e, WF_BAD_INPUT,
                                 "%s:%zu:1: holds %zu cells, but the header has %zu; a cell with "
                                 "'%c' in it is written in double quotes",
                                 w->name, line, cells, c->columns, w->separator);
        w->count = from;
        return true; /* the others are looked at too */
    }
    c->records++;
    return true;
}

static bool read_record(struct walk *w)
{
    size_t from = w->count, line = w->line;
    for (;;) {
        pass_blanks(w);
        bool quoted = !at_end(w) && w->text[w->at] == '"';
        if (!(quoted ? read_quoted(w) : read_plain(w)))
            return false;
        if (at_line_end(w))
            break;
        w->at++; /* the separator */
        w->column++;
    }
    if (!at_end(w))
        pass_line_end(w);
    return end_record(w, from, line);
}

/* That of the three which the first line holds most of, outside quotes. */
static char find_separator(const struct walk *w)
{
    static const char separators[] = {',', ';', '\t'};
    size_t count[sizeof separators] = {0}, best = 0;
    bool quoted = false;
    size_t at = w->at;
    while (at < w->length && wf_ascii_blank(w->text[at]))
        at++;
    for (; at < w->length && (quoted || w->text[at] != '\n'); at++) {
        if (w->text[at] == '"')
            quoted = !quoted;
        for (size_t i = 0; i < sizeof separators; i++)
            count[i] += !quoted && w->text[at] == separators[i];
    }
    for (size_t i = 1; i < sizeof separators; i++)
        if (count[i] > count[best])
            best = i;
    return separators[best];
}

static void walk_all(struct walk *w)
{
    if (w->length >= 3 && memcmp(w->text, "\xEF\xBB\xBF", 3) == 0)
        w->at = 3;
    w->separator = w->out->separator = find_separator(w);
    while (!at_end(w))
        if (!read_record(w))
            return;
    if (w->status == WF_OK && w->out->records == 0)
        fail(w, 1, 1, "nothing is here; the first line names the columns");
}

/* ---- The whole ------------------------------------------------------------------------------- */

enum wf_status wf_csv_parse(const char *name, const char *text, size_t length, struct wf_csv **out,
                            struct wf_error *e)
{
    *out = NULL;
    struct walk w = {.name = name, .text = text, .length = length, .line = 1, .column = 1, .e = e};
    struct wf_arena *arena = wf_arena_new();
    w.out = arena ? wf_arena_alloc(arena, 1, sizeof *w.out) : NULL;
    if (!w.out) {
        wf_arena_free(arena);
        fail_memory(&w);
        return w.status;
    }
    w.out->arena = arena;
    walk_all(&w);
    if (w.status == WF_OK) {
        struct wf_csv_cell *kept = wf_arena_alloc(arena, w.count, sizeof *kept);
        if (!kept)
            fail_memory(&w);
        else if (w.count > 0)
            memcpy(kept, w.cells, w.count * sizeof *kept);
        w.out->cells = kept;
    }
    wf_free(w.cells);
    if (w.status == WF_OK)
        *out = w.out;
    else
        wf_csv_free(w.out);
    return w.status;
}

void wf_csv_free(struct wf_csv *c)
{
    if (c)
        wf_arena_free(c->arena);
}
