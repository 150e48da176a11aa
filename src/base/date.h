/*
 * date.h: calendar days.
 */
#ifndef WF_DATE_H
#define WF_DATE_H

#include <stdbool.h>

/* "2026-03-01" to days since 1970-01-01; refuses impossible dates and years outside 1970..9999. */
bool wf_date_parse(const char *text, long *days);

#define WF_DATE_TEXT_MAX 16
/* The other way; "" for a day outside these years. Returns out. */
char *wf_date_print(long days, char out[WF_DATE_TEXT_MAX]);

#endif
