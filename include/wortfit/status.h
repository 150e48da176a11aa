/*
 * status.h: how a call of this library went, and the one error type.
 *
 * Every call that can fail returns an enum wf_status and takes a caller-owned struct wf_error,
 * which may be NULL. The library never prints, never exits and never reads the environment.
 *
 * Ownership is visible in signatures: `T **out` is yours to free with the free function named
 * beside it; a returned `const T *` belongs to its parent; a `const` argument is only read.
 */
#ifndef WORTFIT_STATUS_H
#define WORTFIT_STATUS_H

#include <stddef.h>

/* id, exit status of the command, text */
#define WF_STATUS_LIST(X)                                                                          \
    X(OK, 0, "done")                                                                               \
    X(USAGE, 1, "wrong usage")                                                                     \
    X(BAD_INPUT, 2, "bad input")                                                                   \
    X(OUT_OF_RANGE, 2, "outside the law's range")                                                  \
    X(NO_RECIPE, 3, "no recipe exists")                                                            \
    X(FILE, 4, "file error")                                                                       \
    X(MEMORY, 4, "out of memory")                                                                  \
    X(CANCELLED, 4, "cancelled")                                                                   \
    X(UNDECIDED, 4, "not decided in the time given")                                               \
    X(INTERNAL, 4, "internal error")

enum wf_status {
#define WF_X(id, code, text) WF_##id,
    WF_STATUS_LIST(WF_X)
#undef WF_X
        WF_STATUS_COUNT
};

#define WF_ERROR_TEXT_MAX 8192

/*
 * What went wrong, told to a person. `text` holds one message a line, each whole in itself (and
 * under it, indented, perhaps a line of the file): file and place, what was read, what would be
 * right. All errors of a file are told at once; those that do not fit are counted in `hidden`. It
 * allocates nothing, so it can also report that memory ran out.
 */
struct wf_error {
    enum wf_status status; /* of the first message: the first error wins */
    size_t count;          /* messages added, hidden ones included */
    size_t hidden;         /* messages that found no room in text */
    char text[WF_ERROR_TEXT_MAX];
};

#if defined(__GNUC__)
#define WF_PRINTF(at, first) __attribute__((format(printf, at, first)))
#define WF_MUST_USE          __attribute__((warn_unused_result))
#else
#define WF_PRINTF(at, first)
#define WF_MUST_USE
#endif

/* Empties e (NULL allowed). A struct wf_error may also simply be zeroed. */
void wf_error_clear(struct wf_error *e);

/* Adds one message (no newline at its end) and returns `status`, so that a call can end with
 * `return wf_error_add(e, WF_BAD_INPUT, "..." );`. The status of the first message stays. */
enum wf_status wf_error_add(struct wf_error *e, enum wf_status status, const char *format, ...)
    WF_PRINTF(3, 4);

/* The status's plain text and the exit status that the command gives for it. */
const char *wf_status_text(enum wf_status status);
int wf_status_exit(enum wf_status status);

#endif
