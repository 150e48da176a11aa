/*
 * analyse.h: read before every file by tests/analyse.sh. Analyzers look at one file at a time and
 * do not know that wf_error_add returns the status that it is given; without that they follow a
 * failure as if it were WF_OK.
 */
#ifndef WF_ANALYSE_H
#define WF_ANALYSE_H

#include "wortfit/status.h"

static inline enum wf_status wf_as_given(enum wf_status given, enum wf_status returned)
{
    (void)returned;
    return given;
}

#define wf_error_add(e, status, ...)                                                               \
    wf_as_given((status), (wf_error_add)((e), (status), __VA_ARGS__))

#endif
