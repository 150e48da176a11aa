/* try.h: leave a function early. WF_TRY returns a failure; WF_TRY_GOTO jumps to `done`, with the
 * failure in the local `status`. */
#ifndef WF_TRY_H
#define WF_TRY_H

#include "wortfit/status.h"

#define WF_TRY(call)                                                                               \
    do {                                                                                           \
        enum wf_status wf_try_status = (call);                                                     \
        if (wf_try_status != WF_OK)                                                                \
            return wf_try_status;                                                                  \
    } while (0)

#define WF_TRY_GOTO(call)                                                                          \
    do {                                                                                           \
        status = (call);                                                                           \
        if (status != WF_OK)                                                                       \
            goto done;                                                                             \
    } while (0)

#define WF_COUNT_OF(array) (sizeof(array) / sizeof((array)[0]))

#endif
