/*
 * alloc.h: the only malloc, realloc and free of the library, and arenas.
 *
 * Everything read from files lives in an arena that is freed at once, so that a reader that fails
 * half-way has nothing to undo. Requests return zeroed memory or NULL.
 */
#ifndef WF_ALLOC_H
#define WF_ALLOC_H

#include <stddef.h>

void *wf_alloc(size_t count, size_t size); /* zeroed; NULL on failure or overflow; count 0 is 1 */
void *wf_realloc(void *old, size_t count, size_t size); /* growth is not zeroed */
void wf_free(void *p);                                  /* NULL allowed */

/* Tests only: makes the nth allocation from now (0 the next) fail, and only that one, so that code
 * which forgets a failure is caught carrying on; n < 0 stops failing. Thread-local. */
void wf_alloc_fail_at(long n);
/* Allocations made by this thread since the last call of wf_alloc_fail_at. */
long wf_alloc_count(void);

struct wf_arena;
struct wf_arena *wf_arena_new(void);    /* NULL: out of memory */
void wf_arena_free(struct wf_arena *a); /* NULL allowed */
/* Zeroed, aligned for any type. */
void *wf_arena_alloc(struct wf_arena *a, size_t count, size_t size);
char *wf_arena_copy(struct wf_arena *a, const char *text, size_t length); /* adds the NUL */
char *wf_arena_string(struct wf_arena *a, const char *text);              /* NULL text: NULL */
char *wf_arena_print(struct wf_arena *a, const char *format, ...)
    __attribute__((format(printf, 2, 3)));

#endif
