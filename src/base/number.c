/*
 * number.c: the one door between text and doubles.
 *
 * A program that uses the library may have set any locale, in which 1.5 is written "1,5". Every
 * conversion therefore runs with the thread's locale switched to "C"; uselocale() touches this
 * thread only.
 */
#include "base/number.h"

#include "base/ascii.h"

#include <locale.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>

struct c_locale {
    locale_t c, before;
};

static bool c_locale_enter(struct c_locale *l)
{
    l->c = newlocale(LC_NUMERIC_MASK, "C", (locale_t)0);
    if (!l->c)
        return false;
    l->before = uselocale(l->c);
    return true;
}

static void c_locale_leave(const struct c_locale *l)
{
    uselocale(l->before);
    freelocale(l->c);
}

static const char *skip_digits(const char *p)
{
    while (wf_ascii_digit(*p))
        p++;
    return p;
}

/* End of the decimal number at p, or NULL where there is none. A point without a digit after it is
 * left alone, so that "1..2" is the number 1 and a range; an "e" likewise, so that "5EBC" is 5. */
static const char *scan_decimal(const char *p)
{
    if (*p == '+' || *p == '-')
        p++;
    if (p[0] == '0' && (p[1] == 'x' || p[1] == 'X'))
        return NULL;
    const char *digits = p;
    p = skip_digits(p);
    if (p[0] == '.' && wf_ascii_digit(p[1]))
        p = skip_digits(p + 1);
    if (p == digits)
        return NULL;
    if (*p == 'e' || *p == 'E') {
        const char *power = p + 1 + (p[1] == '+' || p[1] == '-');
        if (wf_ascii_digit(*power))
            p = skip_digits(power);
    }
    return p;
}

bool wf_number_parse(const char *text, const char **end, double *out)
{
    struct c_locale locale;
    const char *stop = scan_decimal(text);
    if (!stop || !c_locale_enter(&locale))
        return false;
    double value = strtod(text, NULL); /* reads the same characters as scan_decimal */
    c_locale_leave(&locale);
    if (!isfinite(value))
        return false;
    *end = stop;
    *out = value;
    return true;
}

bool wf_number_print(double value, char out[WF_NUMBER_TEXT_MAX])
{
    if (!isfinite(value))
        return false;
    for (int digits = 15; digits <= 17; digits++) {
        const char *end;
        double back;
        if (wf_snprintf(out, WF_NUMBER_TEXT_MAX, "%.*g", digits, value) < 0)
            return false;
        if (wf_number_parse(out, &end, &back) && back == value)
            return true;
    }
    return false;
}

int wf_vsnprintf(char *out, size_t size, const char *format, va_list args)
{
    struct c_locale locale;
    if (!c_locale_enter(&locale)) {
        if (size > 0)
            out[0] = '\0';
        return -1;
    }
    int length = vsnprintf(out, size, format, args);
    c_locale_leave(&locale);
    return length;
}

int wf_snprintf(char *out, size_t size, const char *format, ...)
{
    va_list args;
    va_start(args, format);
    int length = wf_vsnprintf(out, size, format, args);
    va_end(args);
    return length;
}
