/*
 * ascii.h: letters, digits and blanks of ASCII. The functions of ctype.h follow the program's
 * locale and want an unsigned char; the grammar of files and figures does neither.
 */
#ifndef WF_ASCII_H
#define WF_ASCII_H

#include <stdbool.h>

static inline char wf_ascii_lower(char c)
{
    return c >= 'A' && c <= 'Z' ? (char)(c - 'A' + 'a') : c;
}

static inline bool wf_ascii_digit(char c)
{
    return c >= '0' && c <= '9';
}

static inline bool wf_ascii_letter(char c)
{
    return wf_ascii_lower(c) >= 'a' && wf_ascii_lower(c) <= 'z';
}

static inline bool wf_ascii_blank(char c)
{
    return c == ' ' || c == '\t' || c == '\n' || c == '\r';
}

/* Whether two words are the same but for upper and lower case. */
static inline bool wf_ascii_same(const char *a, const char *b)
{
    for (; *a && wf_ascii_lower(*a) == wf_ascii_lower(*b); a++)
        b++;
    return *a == *b;
}

static inline const char *wf_ascii_skip_blanks(const char *p)
{
    while (wf_ascii_blank(*p))
        p++;
    return p;
}

#endif
