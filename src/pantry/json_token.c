/* json_token.c: strings, numbers and words of JSON, strictly after RFC 8259, sections 3, 6 and 7.
 */
#include "pantry/json_scanner.h"

#include "base/ascii.h"
#include "base/number.h"
#include "base/utf8.h"

#include <string.h>

/* ---- Strings --------------------------------------------------------------------------------- */

static int hex_digit(char c)
{
    char lower = wf_ascii_lower(c);
    if (wf_ascii_digit(c))
        return c - '0';
    return lower >= 'a' && lower <= 'f' ? lower - 'a' + 10 : -1;
}

/* The code unit of "\uXXXX" at `text`, or -1. */
static long code_unit(const char *text, size_t length)
{
    long unit = 0;
    if (length < 6 || text[0] != '\\' || text[1] != 'u')
        return -1;
    for (size_t i = 2; i < 6; i++) {
        int digit = hex_digit(text[i]);
        if (digit < 0)
            return -1;
        unit = unit * 16 + digit;
    }
    return unit;
}

static bool is_high_surrogate(long unit)
{
    return unit >= 0xD800 && unit <= 0xDBFF;
}

static bool is_low_surrogate(long unit)
{
    return unit >= 0xDC00 && unit <= 0xDFFF;
}

/* "\uXXXX", or two of them that make a pair. U+0000 would end a C string early. */
static bool scan_unicode_escape(struct wf_json_scanner *s)
{
    const char *text = s->text + s->at;
    size_t left = s->end - s->at;
    long unit = code_unit(text, left);
    if (unit < 0)
        return wf_json_fail(s, s->at, 2, "\\u needs four hexadecimal digits, such as \\u00e9");
    if (unit == 0)
        return wf_json_fail(s, s->at, 6, "the character U+0000 cannot be part of a text");
    if (is_low_surrogate(unit))
        return wf_json_fail(s, s->at, 6, "a low surrogate without the high one before it");
    if (is_high_surrogate(unit)) {
        if (!is_low_surrogate(code_unit(text + 6, left - 6)))
            return wf_json_fail(s, s->at, 6, "a high surrogate without the low one after it");
        s->at += 6;
    }
    s->at += 6;
    return true;
}

static bool scan_escape(struct wf_json_scanner *s)
{
    char c = s->at + 1 < s->end ? s->text[s->at + 1] : '\0';
    if (c == 'u')
        return scan_unicode_escape(s);
    if (c == '\0' || !strchr("\"\\/bfnrt", c))
        return wf_json_fail(s, s->at, 2, "no such escape; a backslash itself is written \\\\");
    s->at += 2;
    return true;
}

static bool scan_character(struct wf_json_scanner *s)
{
    const unsigned char *p = (const unsigned char *)s->text + s->at;
    if (*p == '\\')
        return scan_escape(s);
    if (*p == '\n' || *p == '\r')
        return wf_json_fail(s, s->at, 1, "the line ends inside a text; close it with a quote");
    if (*p < 0x20)
        return wf_json_fail(s, s->at, 1, "a control character (U+%04X) inside a text", *p);
    size_t length = wf_utf8_sequence(p, s->end - s->at);
    if (length == 0)
        return wf_json_fail(s, s->at, 1, "byte 0x%02X is not UTF-8; save the file as UTF-8", *p);
    s->at += length;
    return true;
}

/* Nearly all of a text is plain ASCII that needs no look of its own. */
static void skip_plain(struct wf_json_scanner *s)
{
    const char *text = s->text;
    size_t at = s->at;
    while (at < s->end && text[at] >= 0x20 && text[at] < 0x7F && text[at] != '"' &&
           text[at] != '\\')
        at++;
    s->at = at;
}

bool wf_json_scan_string(struct wf_json_scanner *s, struct wf_json_span *inside)
{
    size_t opening = s->at++;
    for (;;) {
        skip_plain(s);
        if (wf_json_peek(s) == '"')
            break;
        if (s->at == s->end)
            return wf_json_fail(s, opening, 1, "this text is never closed with a quote");
        if (!scan_character(s))
            return false;
    }
    *inside = (struct wf_json_span){opening + 1, s->at - opening - 1};
    s->at++;
    if (inside->length > WF_JSON_STRING_MOST)
        return wf_json_fail(s, opening, 1, "a text of %zu bytes; at most %u", inside->length,
                            WF_JSON_STRING_MOST);
    return true;
}

/* ---- Escapes decoded ------------------------------------------------------------------------- */

static size_t put_utf8(unsigned long c, char *out)
{
    static const unsigned char lead[] = {0, 0x00, 0xC0, 0xE0, 0xF0};
    size_t length = c < 0x80 ? 1 : c < 0x800 ? 2 : c < 0x10000 ? 3 : 4;
    for (size_t i = length; i-- > 1; c >>= 6)
        out[i] = (char)(0x80 | (c & 0x3F));
    out[0] = (char)(lead[length] | c);
    return length;
}

/* Decodes the escape at `text`; says in *taken how long it was. */
static size_t unescape_one(const char *text, size_t length, char *out, size_t *taken)
{
    static const char from[] = "\"\\/bfnrt", to[] = "\"\\/\b\f\n\r\t";
    *taken = 2;
    if (text[1] != 'u') {
        *out = to[strchr(from, text[1]) - from];
        return 1;
    }
    long unit = code_unit(text, length);
    *taken = 6;
    if (!is_high_surrogate(unit))
        return put_utf8((unsigned long)unit, out);
    long low = code_unit(text + 6, length - 6);
    *taken = 12;
    return put_utf8((unsigned long)(0x10000 + ((unit - 0xD800) << 10) + (low - 0xDC00)), out);
}

size_t wf_json_unescape(const char *text, size_t length, char *out)
{
    size_t used = 0;
    for (size_t at = 0, taken; at < length; at += taken) {
        taken = 1;
        if (text[at] == '\\')
            used += unescape_one(text + at, length - at, out + used, &taken);
        else
            out[used++] = text[at];
    }
    return used;
}

/* ---- Numbers --------------------------------------------------------------------------------- */

static bool in_figure(char c)
{
    return wf_ascii_letter(c) || wf_ascii_digit(c) || (c != '\0' && strchr("+-.%", c));
}

/* What a person may have meant as one figure: "4.5kg", "6.5%", "1.055". */
static size_t figure_length(const char *text, size_t length)
{
    size_t n = 0;
    while (n < length && in_figure(text[n]))
        n++;
    return n;
}

static bool digit_at(const struct wf_json_scanner *s)
{
    return s->at < s->end && wf_ascii_digit(s->text[s->at]);
}

static bool scan_digits(struct wf_json_scanner *s, const char *after)
{
    if (!digit_at(s))
        return wf_json_fail(s, s->at, 1, "a digit must follow %s", after);
    while (digit_at(s))
        s->at++;
    return true;
}

static bool take(struct wf_json_scanner *s, const char *any_of)
{
    int c = wf_json_peek(s);
    if (c <= 0 || !strchr(any_of, c))
        return false;
    s->at++;
    return true;
}

/* number = [ "-" ] int [ frac ] [ exp ] */
static bool scan_number_form(struct wf_json_scanner *s)
{
    take(s, "-");
    size_t first = s->at;
    if (!scan_digits(s, "the minus sign"))
        return false;
    if (s->text[first] == '0' && s->at - first > 1)
        return wf_json_fail(s, first, s->at - first, "a number has no zeros in front");
    if (take(s, ".") && !scan_digits(s, "the decimal point"))
        return false;
    if (take(s, "eE")) {
        take(s, "+-");
        if (!scan_digits(s, "the e of a power of ten"))
            return false;
    }
    return true;
}

bool wf_json_scan_number(struct wf_json_scanner *s)
{
    char copy[WF_JSON_NUMBER_MOST + 1];
    size_t start = s->at, figure = figure_length(s->text + start, s->end - start);
    if (!scan_number_form(s))
        return false;
    size_t length = s->at - start;
    if (length > WF_JSON_NUMBER_MOST)
        return wf_json_fail(s, start, length, "a number of %zu characters; at most %u", length,
                            WF_JSON_NUMBER_MOST);
    if (figure > length)
        return wf_json_fail(s, start, figure,
                            "not a number; a figure with its unit is written in double quotes, "
                            "such as \"4.5 kg\"");
    const char *stop;
    double value;
    memcpy(copy, s->text + start, length);
    copy[length] = '\0';
    if (!wf_number_parse(copy, &stop, &value))
        return wf_json_fail(s, start, length, "this number is too large");
    return true;
}

/* ---- Words ----------------------------------------------------------------------------------- */

bool wf_json_scan_word(struct wf_json_scanner *s)
{
    static const char *const words[] = {"true", "false", "null"};
    const char *text = s->text + s->at;
    size_t length = figure_length(text, s->end - s->at);
    for (size_t i = 0; i < 3; i++)
        if (length == strlen(words[i]) && memcmp(text, words[i], length) == 0) {
            s->at += length;
            return true;
        }
    return wf_json_fail(s, s->at, length,
                        "not a word of JSON, which are true, false and null; text is written in "
                        "double quotes");
}
