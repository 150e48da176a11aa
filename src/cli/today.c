/* today.c: see today.h. By way of the day's text, so that local time counts and date.h does the
 * arithmetic. */
#include "cli/today.h"

#include "base/date.h"

#include <time.h>

long wf_today(void)
{
    time_t now = time(NULL);
    struct tm local;
    char text[16];
    long days = 0;
    if (localtime_r(&now, &local) && strftime(text, sizeof text, "%Y-%m-%d", &local) > 0 &&
        wf_date_parse(text, &days))
        return days;
    return (long)(now / 86400);
}
