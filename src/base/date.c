/* date.c: the proleptic Gregorian calendar. */
#include "base/date.h"

#include "base/ascii.h"
#include "base/number.h"

#define YEAR_LEAST 1970
#define YEAR_MOST  9999

static bool is_leap(long year)
{
    return (year % 4 == 0 && year % 100 != 0) || year % 400 == 0;
}

static long days_in_month(long year, long month)
{
    static const unsigned char days[] = {31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31};
    return days[month - 1] + (month == 2 && is_leap(year) ? 1 : 0);
}

/* Leap days before 1 January of the year, counted from year 1. */
static long leap_days_before(long year)
{
    long y = year - 1;
    return y / 4 - y / 100 + y / 400;
}

/* Days from 1970-01-01 to 1 January of the year. */
static long days_before(long year)
{
    return 365 * (year - YEAR_LEAST) + leap_days_before(year) - leap_days_before(YEAR_LEAST);
}

/* Exactly `width` digits at *p, which is moved past them. */
static bool read_digits(const char **p, int width, long *out)
{
    long value = 0;
    for (int i = 0; i < width; i++, (*p)++) {
        if (!wf_ascii_digit(**p))
            return false;
        value = value * 10 + (**p - '0');
    }
    *out = value;
    return true;
}

bool wf_date_parse(const char *text, long *days)
{
    long year, month, day;
    const char *p = text;
    if (!read_digits(&p, 4, &year) || *p++ != '-' || !read_digits(&p, 2, &month) || *p++ != '-' ||
        !read_digits(&p, 2, &day) || *p != '\0')
        return false;
    if (year < YEAR_LEAST || year > YEAR_MOST || month < 1 || month > 12 || day < 1 ||
        day > days_in_month(year, month))
        return false;

    long count = days_before(year);
    for (long m = 1; m < month; m++)
        count += days_in_month(year, m);
    *days = count + day - 1;
    return true;
}

char *wf_date_print(long days, char out[WF_DATE_TEXT_MAX])
{
    long year = YEAR_LEAST + days / 366, month = 1; /* at most the right year */
    out[0] = '\0';
    if (days < 0 || days >= days_before(YEAR_MOST + 1))
        return out;
    while (days >= days_before(year + 1))
        year++;
    days -= days_before(year);
    for (; days >= days_in_month(year, month); month++)
        days -= days_in_month(year, month);
    wf_snprintf(out, WF_DATE_TEXT_MAX, "%04ld-%02ld-%02ld", year, month, days + 1);
    return out;
}
