/* utf8.c: well-formed UTF-8 after table 3-7 of the Unicode Standard. */
#include "base/utf8.h"

#include "base/try.h"

#include <string.h>

/* First byte from..to, length of the sequence, range of the second byte; the others are 80..BF. */
static const struct {
    unsigned char from, to, length, second_low, second_high;
} sequence_row[] = {
    {0x00, 0x7F, 1, 0x00, 0x00}, {0xC2, 0xDF, 2, 0x80, 0xBF}, {0xE0, 0xE0, 3, 0xA0, 0xBF},
    {0xE1, 0xEC, 3, 0x80, 0xBF}, {0xED, 0xED, 3, 0x80, 0x9F}, {0xEE, 0xEF, 3, 0x80, 0xBF},
    {0xF0, 0xF0, 4, 0x90, 0xBF}, {0xF1, 0xF3, 4, 0x80, 0xBF}, {0xF4, 0xF4, 4, 0x80, 0x8F},
};

static int tail_is_good(const unsigned char *text, size_t row)
{
    size_t length = sequence_row[row].length;
    if (length > 1 &&
        (text[1] < sequence_row[row].second_low || text[1] > sequence_row[row].second_high))
        return 0;
    for (size_t i = 2; i < length; i++)
        if (text[i] < 0x80 || text[i] > 0xBF)
            return 0;
    return 1;
}

size_t wf_utf8_sequence(const unsigned char *text, size_t length)
{
    for (size_t row = 0; length > 0 && row < WF_COUNT_OF(sequence_row); row++) {
        if (text[0] < sequence_row[row].from || text[0] > sequence_row[row].to)
            continue;
        if (sequence_row[row].length > length || !tail_is_good(text, row))
            return 0;
        return sequence_row[row].length;
    }
    return 0;
}

size_t wf_utf8_first_bad(const char *text, size_t length)
{
    size_t at = 0;
    while (at < length) {
        size_t n = wf_utf8_sequence((const unsigned char *)text + at, length - at);
        if (n == 0)
            break;
        at += n;
    }
    return at;
}

size_t wf_utf8_count(const char *text, size_t length)
{
    size_t count = 0;
    for (size_t i = 0; i < length; i++)
        if (((unsigned char)text[i] & 0xC0) != 0x80) /* not the tail of a sequence */
            count++;
    return count;
}

static unsigned long code_point(const unsigned char *text, size_t length)
{
    static const unsigned char mask[] = {0, 0x7F, 0x1F, 0x0F, 0x07};
    unsigned long c = text[0] & mask[length];
    for (size_t i = 1; i < length; i++)
        c = c << 6 | (text[i] & 0x3Fu);
    return c;
}

/* Ranges that move the cursor, ring the bell, turn the text around or are not seen at all (Unicode
 * Standard 15.0, sections 23.1 to 23.9). */
static int is_unsafe(unsigned long c)
{
    static const struct {
        unsigned long from, to;
    } range[] = {{0x00, 0x1F},     {0x7F, 0x9F},     {0x61C, 0x61C},
                 {0x200E, 0x200F}, {0x2028, 0x202E}, {0x2060, 0x206F},
                 {0xFEFF, 0xFEFF}, {0xFFF9, 0xFFFB}, {0xE0000, 0xE007F}};
    for (size_t i = 0; i < WF_COUNT_OF(range); i++)
        if (c >= range[i].from && c <= range[i].to)
            return 1;
    return 0;
}

char *wf_utf8_safe(const char *text, size_t length, char *out, size_t size)
{
    static const char cut[] = "...";
    size_t used = 0, last_fit = 0; /* last_fit: where "..." would still find room */
    for (size_t at = 0; at < length;) {
        const unsigned char *p = (const unsigned char *)text + at;
        size_t n = wf_utf8_sequence(p, length - at);
        int bad = n == 0 || is_unsafe(code_point(p, n));
        size_t wanted = bad ? 1 : n;
        if (used + wanted >= size) {
            size_t dots = size - 1 - last_fit < 3 ? size - 1 - last_fit : 3;
            memcpy(out + last_fit, cut, dots);
            used = last_fit + dots;
            break;
        }
        memcpy(out + used, bad ? "?" : (const char *)p, wanted);
        used += wanted;
        at += n == 0 ? 1 : n;
        if (used + 3 < size)
            last_fit = used;
    }
    out[used] = '\0';
    return out;
}
