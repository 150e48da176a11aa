/* json_place.c: lines, columns and carets. */
#include "pantry/json_place.h"

#include "base/ascii.h"
#include "base/utf8.h"

#include <string.h>

#define BOM          "\xEF\xBB\xBF"
#define BEFORE_MOST  40u          /* characters shown before the place */
#define WINDOW_MOST  ((size_t)72) /* characters shown in all */
#define WINDOW_BYTES (4 * WINDOW_MOST)
#define INDENT       ((size_t)4)

/* The indent twice, the line, its newline, carets or blanks for each of its bytes, the NUL. */
_Static_assert(2 * INDENT + 2 * WINDOW_BYTES + 3 <= WF_JSON_CARET_MAX, "room for both lines");

static size_t line_start(const char *text, size_t length, size_t offset)
{
    while (offset > 0 && text[offset - 1] != '\n')
        offset--;
    if (offset == 0 && length >= 3 && memcmp(text, BOM, 3) == 0)
        return 3;
    return offset;
}

struct wf_json_place wf_json_place(const char *text, size_t length, size_t offset)
{
    struct wf_json_place place = {.line = 1};
    if (offset > length)
        offset = length;
    for (size_t i = 0; i < offset; i++)
        if (text[i] == '\n')
            place.line++;
    size_t start = line_start(text, length, offset);
    place.column = 1 + (offset > start ? wf_utf8_count(text + start, offset - start) : 0);
    return place;
}

/* Where the nth character from `from` starts, at most `end`. */
static size_t skip_characters(const char *text, size_t from, size_t end, size_t n)
{
    while (from < end && n-- > 0)
        do
            from++;
        while (from < end && ((unsigned char)text[from] & 0xC0) == 0x80);
    return from;
}

/* Characters of text[from, to) as wf_utf8_safe writes them: each byte that is none is one too. */
static size_t width(const char *text, size_t from, size_t to)
{
    size_t count = 0;
    for (size_t n; from < to; from += n, count++) {
        n = wf_utf8_sequence((const unsigned char *)text + from, to - from);
        n = n ? n : 1;
    }
    return count;
}

static bool is_blank(const char *text, size_t from, size_t to)
{
    while (from < to && wf_ascii_blank(text[from]))
        from++;
    return from == to;
}

static char *put(char *out, char c, size_t count)
{
    memset(out, c, count);
    return out + count;
}

/* The bytes of the window as they may be shown, each tab a blank. Returns the end of what it wrote.
 */
static char *put_line(char *out, const char *line, size_t length)
{
    char window[WINDOW_BYTES + 1];
    memcpy(window, line, length);
    for (size_t i = 0; i < length; i++)
        if (window[i] == '\t')
            window[i] = ' ';
    wf_utf8_safe(window, length, out, WINDOW_BYTES + 1);
    return out + strlen(out);
}

char *wf_json_caret(const char *text, size_t length, size_t offset, size_t span,
                    char out[WF_JSON_CARET_MAX])
{
    if (offset > length)
        offset = length;
    size_t start = line_start(text, length, offset), stop = offset;
    while (stop < length && text[stop] != '\n' && text[stop] != '\r')
        stop++;
    size_t before = start < offset ? wf_utf8_count(text + start, offset - start) : 0;
    if (before > BEFORE_MOST)
        start = skip_characters(text, start, offset, before - BEFORE_MOST);
    if (start > offset || offset - start >= WINDOW_BYTES)
        start = offset;
    stop = skip_characters(text, start, stop, WINDOW_MOST);
    if (stop - start > WINDOW_BYTES)
        stop = start + WINDOW_BYTES;
    if (span > stop - offset)
        span = stop - offset;
    if (is_blank(text, start, stop)) {
        out[0] = '\0';
        return out;
    }

    char *p = put(out, ' ', INDENT);
    p = put_line(p, text + start, stop - start);
    p = put(p, '\n', 1);
    p = put(p, ' ', INDENT + width(text, start, offset));
    p = put(p, '^', span > 0 ? width(text, offset, offset + span) : 1);
    *p = '\0';
    return out;
}
