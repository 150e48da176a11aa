/*
 * json_scan.c: the structure of JSON, comments, duplicate keys and limits; first error wins.
 *
 * Each scan_* function starts at the first byte of its piece and ends after the last. Recursion is
 * as deep as the text is nested, which WF_JSON_DEPTH_MOST limits.
 */
#include "pantry/json_scan.h"

#include "pantry/json_place.h"
#include "pantry/json_scanner.h"

#include "base/alloc.h"
#include "base/ascii.h"
#include "base/file.h"
#include "base/number.h"
#include "base/try.h"
#include "base/utf8.h"

#include <stdarg.h>
#include <stdint.h>
#include <string.h>

int wf_json_peek(const struct wf_json_scanner *s)
{
    return s->at < s->end ? (unsigned char)s->text[s->at] : -1;
}

/* ---- Failure --------------------------------------------------------------------------------- */

bool wf_json_fail(struct wf_json_scanner *s, size_t offset, size_t span, const char *format, ...)
{
    va_list args;
    s->status = WF_BAD_INPUT;
    s->fault->offset = offset;
    s->fault->span = span;
    va_start(args, format);
    wf_vsnprintf(s->fault->reason, sizeof s->fault->reason, format, args);
    va_end(args);
    return false;
}

static bool fail_memory(struct wf_json_scanner *s)
{
    s->status = WF_MEMORY;
    return false;
}

/* Slips that are made again and again, by the character that shows them; how it is called where it
 * cannot be shown. */
static const struct {
    const char *character, *called, *hint;
} slip_row[] = {
    {"'", "\"'\"", "; text is written in double quotes"},
    {"\xE2\x80\x98", NULL, "; text is written in plain double quotes"},
    {"\xE2\x80\x99", NULL, "; text is written in plain double quotes"},
    {"\xE2\x80\x9C", NULL, "; text is written in plain double quotes"},
    {"\xE2\x80\x9D", NULL, "; text is written in plain double quotes"},
    {"\xE2\x80\x9E", NULL, "; text is written in plain double quotes"},
    {"\xC2\xA0", "a no-break space", "; write an ordinary blank"},
    {"\xEF\xBB\xBF", "a byte order mark", "; it can only be at the start of a file"},
    {"=", NULL, "; a key is followed by ':'"},
    {"#", NULL, "; a comment begins with //"},
    {"+", NULL, "; a number is written without a plus sign"},
    {".", NULL, "; a number begins with a digit, such as 0.5"},
};

/* "'x'", or what the character is called; and the hint. */
static const char *describe(const char *text, size_t length, char shown[16], const char **hint)
{
    char character[8];
    *hint = "";
    wf_snprintf(shown, 16, "'%s'", wf_utf8_safe(text, length, character, sizeof character));
    for (size_t i = 0; i < WF_COUNT_OF(slip_row); i++) {
        if (strlen(slip_row[i].character) != length ||
            memcmp(slip_row[i].character, text, length) != 0)
            continue;
        *hint = slip_row[i].hint;
        return slip_row[i].called ? slip_row[i].called : shown;
    }
    return shown;
}

bool wf_json_fail_found(struct wf_json_scanner *s, const char *wanted)
{
    char shown[16];
    const char *text = s->text + s->at, *hint;
    if (s->at == s->end)
        return wf_json_fail(s, s->at, 0, "the file ends where %s is wanted", wanted);
    size_t length = wf_utf8_sequence((const unsigned char *)text, s->end - s->at);
    unsigned byte = (unsigned char)*text;
    if (length == 0)
        return wf_json_fail(s, s->at, 1, "byte 0x%02X is not UTF-8; save the file as UTF-8", byte);
    if (byte < 0x20 || byte == 0x7F)
        return wf_json_fail(s, s->at, 1, "a control character (U+%04X) where %s is wanted", byte,
                            wanted);
    const char *found = describe(text, length, shown, &hint);
    return wf_json_fail(s, s->at, length, "found %s where %s is wanted%s", found, wanted, hint);
}

/* ---- Blanks and comments --------------------------------------------------------------------- */

static void blank(struct wf_json_scanner *s, size_t from, size_t to)
{
    for (size_t i = from; i < to; i++)
        if (s->text[i] != '\n' && s->text[i] != '\r')
            s->text[i] = ' ';
}

/* Where the comment at the scan's place ends; SIZE_MAX: it never does. */
static size_t comment_end(const struct wf_json_scanner *s)
{
    if (s->text[s->at + 1] == '/') {
        const char *newline = memchr(s->text + s->at, '\n', s->end - s->at);
        return newline ? (size_t)(newline - s->text) : s->end;
    }
    for (size_t i = s->at + 2; i + 1 < s->end; i++)
        if (s->text[i] == '*' && s->text[i + 1] == '/')
            return i + 2;
    return SIZE_MAX;
}

static bool skip_comment(struct wf_json_scanner *s)
{
    char next = s->at + 1 < s->end ? s->text[s->at + 1] : '\0';
    if (next != '/' && next != '*')
        return wf_json_fail(s, s->at, 1, "found '/' alone; a comment begins with // or /*");
    size_t stop = comment_end(s);
    if (stop == SIZE_MAX)
        return wf_json_fail(s, s->at, 2, "this comment is never closed with */");
    size_t bad = s->at + wf_utf8_first_bad(s->text + s->at, stop - s->at);
    if (bad < stop)
        return wf_json_fail(s, bad, 1, "byte 0x%02X is not UTF-8; save the file as UTF-8",
                            (unsigned)(unsigned char)s->text[bad]);
    blank(s, s->at, stop);
    s->at = stop;
    return true;
}

static bool skip_blanks(struct wf_json_scanner *s)
{
    for (;;) {
        int c = wf_json_peek(s);
        if (c == '/') {
            if (!skip_comment(s))
                return false;
        } else if (c > 0 && wf_ascii_blank((char)c)) {
            s->at++;
        } else {
            return true;
        }
    }
}

/* ---- Objects and lists ----------------------------------------------------------------------- */

static bool scan_value(struct wf_json_scanner *s);

static size_t line_of(const struct wf_json_scanner *s, size_t offset)
{
    return wf_json_place(s->text, s->end, offset).line;
}

/* The key as it reads, decoded where it is written with escapes. NULL: out of memory. */
static const char *plain_key(struct wf_json_scanner *s, struct wf_json_span *key)
{
    const char *text = s->text + key->offset;
    if (!memchr(text, '\\', key->length))
        return text;
    if (!s->arena)
        s->arena = wf_arena_new();
    char *plain = s->arena ? wf_arena_alloc(s->arena, key->length + 1, 1) : NULL;
    if (plain)
        key->length = wf_json_unescape(text, key->length, plain);
    return plain;
}

static bool check_key_is_new(struct wf_json_scanner *s, size_t object, struct wf_json_span key)
{
    char shown[64];
    const struct wf_name *old;
    size_t offset = key.offset, span = key.length;
    const char *text = plain_key(s, &key);
    if (!text)
        return fail_memory(s);
    struct wf_name name = {text, key.length, object, offset};
    if (wf_names_add(&s->keys, name, &old) != WF_OK)
        return fail_memory(s);
    if (!old)
        return true;
    wf_utf8_safe(text, key.length, shown, sizeof shown);
    size_t first = line_of(s, old->value);
    if (first == line_of(s, offset)) /* the text may be a line of a file itself */
        return wf_json_fail(s, offset - 1, span + 2,
                            "the key \"%s\" is given twice; the first is in this line", shown);
    return wf_json_fail(s, offset - 1, span + 2,
                        "the key \"%s\" is given twice; the first is in line %zu", shown, first);
}

static bool scan_member(struct wf_json_scanner *s, size_t object)
{
    struct wf_json_span key;
    int c = wf_json_peek(s);
    if (c > 0 && wf_ascii_letter((char)c))
        return wf_json_fail(s, s->at, 1, "a key is written in double quotes, such as \"have\"");
    if (c > 0 && wf_ascii_digit((char)c))
        return wf_json_fail(s, s->at, 1,
                            "found a number where a key is wanted; a fraction is written with a "
                            "point, such as 4.5");
    if (c != '"')
        return wf_json_fail_found(s, "a key");
    if (!wf_json_scan_string(s, &key) || !check_key_is_new(s, object, key) || !skip_blanks(s))
        return false;
    if (wf_json_peek(s) != ':')
        return wf_json_fail_found(s, "':' after the key");
    s->at++;
    return skip_blanks(s) && scan_value(s);
}

/* What follows a value is neither a comma nor the closing bracket. A letter is often a unit. */
static bool fail_after_value(struct wf_json_scanner *s, char close)
{
    char wanted[32];
    int c = wf_json_peek(s);
    if (c > 0 && (wf_ascii_letter((char)c) || c == '%'))
        return wf_json_fail(s, s->at, 1,
                            "found '%c' where ',' or '%c' is wanted; a figure with its unit is "
                            "written in double quotes, such as \"4.5 kg\"",
                            c, close);
    wf_snprintf(wanted, sizeof wanted, "',' or '%c'", close);
    return wf_json_fail_found(s, wanted);
}

/* After a value: false ends the loop over the items, at the closing bracket or in failure. */
static bool scan_comma(struct wf_json_scanner *s, size_t opening, char close)
{
    if (!skip_blanks(s) || wf_json_peek(s) == close)
        return false;
    if (s->at == s->end)
        return wf_json_fail(s, s->at, 0, "the file ends before '%c' closes what line %zu opens",
                            close, line_of(s, opening));
    if (wf_json_peek(s) != ',')
        return fail_after_value(s, close);
    size_t comma = s->at++;
    if (!skip_blanks(s))
        return false;
    if (wf_json_peek(s) == close)
        return wf_json_fail(s, comma, 1, "nothing follows this comma; take it out");
    return true;
}

/* An object or a list: from its opening bracket to its closing one. */
static bool scan_container(struct wf_json_scanner *s, char close)
{
    size_t opening = s->at++, object = s->objects++;
    if (++s->depth > WF_JSON_DEPTH_MOST)
        return wf_json_fail(s, opening, 1, "nested deeper than %u levels", WF_JSON_DEPTH_MOST);
    if (!skip_blanks(s))
        return false;
    if (wf_json_peek(s) != close)
        do
            if (!(close == '}' ? scan_member(s, object) : scan_value(s)))
                return false;
        while (scan_comma(s, opening, close));
    if (s->status != WF_OK)
        return false;
    s->depth--;
    s->at++;
    return true;
}

static bool scan_value(struct wf_json_scanner *s)
{
    struct wf_json_span inside;
    int c = wf_json_peek(s);
    if (++s->values > WF_JSON_VALUES_MOST)
        return wf_json_fail(s, s->at, 1, "more than %u values in one file", WF_JSON_VALUES_MOST);
    if (c == '{')
        return scan_container(s, '}');
    if (c == '[')
        return scan_container(s, ']');
    if (c == '"')
        return wf_json_scan_string(s, &inside);
    if (c == '-' || (c > 0 && wf_ascii_digit((char)c)))
        return wf_json_scan_number(s);
    if (c > 0 && wf_ascii_letter((char)c))
        return wf_json_scan_word(s);
    return wf_json_fail_found(s, "a value");
}

/* ---- The whole ------------------------------------------------------------------------------- */

static bool skip_mark(struct wf_json_scanner *s)
{
    if (s->end >= 2 && (memcmp(s->text, "\xFF\xFE", 2) == 0 || memcmp(s->text, "\xFE\xFF", 2) == 0))
        return wf_json_fail(s, 0, 0, "this is UTF-16; save the file as UTF-8");
    if (s->end >= 3 && memcmp(s->text, "\xEF\xBB\xBF", 3) == 0) {
        blank(s, 0, 3);
        s->at = 3;
    }
    return true;
}

static bool scan_text(struct wf_json_scanner *s)
{
    if (s->end > WF_FILE_MOST)
        return wf_json_fail(s, 0, 0, "%zu bytes; a file may have at most %zu", s->end,
                            WF_FILE_MOST);
    if (!skip_mark(s) || !skip_blanks(s))
        return false;
    if (s->at == s->end)
        return wf_json_fail(s, s->at, 0, "nothing is here; wanted an object, { ... }");
    if (!scan_value(s) || !skip_blanks(s))
        return false;
    if (s->at < s->end)
        return wf_json_fail(s, s->at, 1, "text after the end of the value");
    return true;
}

enum wf_status wf_json_scan(char *text, size_t length, struct wf_json_fault *fault)
{
    struct wf_json_scanner s = {.text = text, .end = length, .fault = fault, .status = WF_OK};
    scan_text(&s);
    wf_names_free(&s.keys);
    wf_arena_free(s.arena);
    return s.status;
}
