/* test.h: cmocka in its order of includes, and what its asserts lack. */
#ifndef WF_TEST_H
#define WF_TEST_H

#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

/* cmocka's assert_float_equal casts to float and takes NaN for equal to anything. */
static inline void check_close(double got, double want, double tolerance, const char *what,
                               const char *file, int line)
{
    if (!(fabs(got - want) <= tolerance)) { /* false for NaN, so NaN fails */
        print_error("%s = %.17g, want %.17g +- %g\n", what, got, want, tolerance);
        _fail(file, line);
    }
}
#define assert_close(got, want, tolerance)                                                         \
    check_close((got), (want), (tolerance), #got, __FILE__, __LINE__)

/* So many of a test's drawn cases are tried, seeds from the first on: all, but where sanitizers
 * make each many times as long a part (WF_ONE_CASE_IN of CMake). */
#ifndef WF_ONE_CASE_IN
#define WF_ONE_CASE_IN 1
#endif
#define PART_OF(cases) (((cases) + WF_ONE_CASE_IN - 1) / WF_ONE_CASE_IN)

#define COUNT_OF(array) (sizeof(array) / sizeof((array)[0]))

#endif
