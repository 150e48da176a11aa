/*
 * number.h: the only place that turns text into doubles and doubles into text. Always the C locale.
 */
#ifndef WF_NUMBER_H
#define WF_NUMBER_H

#include <stdarg.h>
#include <stdbool.h>
#include <stddef.h>

#define WF_NUMBER_TEXT_MAX 32

/*
 * Reads a plain decimal number (digits, one point, an exponent; a leading sign) at `text` and says
 * in `*end` where it ended. Refuses hexadecimal, "inf", "nan", and what is not finite as a double.
 */
bool wf_number_parse(const char *text, const char **end, double *out);

/* The shortest of %.15g, %.16g, %.17g that reads back identical. Returns false if not finite. */
bool wf_number_print(double value, char out[WF_NUMBER_TEXT_MAX]);

/* As snprintf and vsnprintf, in the C locale. */
int wf_snprintf(char *out, size_t size, const char *format, ...)
    __attribute__((format(printf, 3, 4)));
int wf_vsnprintf(char *out, size_t size, const char *format, va_list args)
    __attribute__((format(printf, 3, 0)));

#endif
