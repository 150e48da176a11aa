/* memory.h: what happens when memory runs out, at every allocation of an operation in turn. */
#ifndef WF_TEST_MEMORY_H
#define WF_TEST_MEMORY_H

#include "support/test.h"

#include "base/alloc.h"
#include "wortfit/status.h"

#include <stdbool.h>

/* An operation that frees all that it makes. */
typedef enum wf_status memory_operation(void *data, struct wf_error *e);

/* Fails the first allocation, then the second, ... until the operation succeeds, which must take at
 * least `least` of them: each failure must end in WF_MEMORY and say so. Leaks are the sanitizer's
 * to find. From the 200th on only every `stride`th is failed. */
static inline void check_out_of_memory(memory_operation *operation, void *data, long least,
                                       long stride)
{
    static struct wf_error e;
    for (long n = 0;; n += n < 200 ? 1 : stride) {
        wf_error_clear(&e);
        wf_alloc_fail_at(n);
        enum wf_status status = operation(data, &e);
        long made = wf_alloc_count();
        wf_alloc_fail_at(-1);
        if (status == WF_OK && made <= n) {
            assert_true(n >= least);
            return;
        }
        if (status != WF_MEMORY || !strstr(e.text, "out of memory"))
            fail_msg("allocation %ld of %ld fails: status %d, \"%s\"", n, made, (int)status,
                     e.text);
    }
}

/* The same of an operation that may do without some of its memory, as a search that looks at a
 * point less: every `stride`th allocation is failed, and it must end in WF_MEMORY and say so, or
 * well. */
static inline void check_memory_is_told(memory_operation *operation, void *data, long least,
                                        long stride)
{
    static struct wf_error e;
    long told = 0, n = 0, made;
    do {
        wf_error_clear(&e);
        wf_alloc_fail_at(n);
        enum wf_status status = operation(data, &e);
        made = wf_alloc_count();
        wf_alloc_fail_at(-1);
        bool memory = status == WF_MEMORY && strstr(e.text, "out of memory") != NULL;
        if (!memory && status != WF_OK)
            fail_msg("allocation %ld of %ld fails: status %d, \"%s\"", n, made, (int)status,
                     e.text);
        told += memory;
        n += stride;
    } while (made > n - stride);
    assert_true(n >= least && told * 2 > n / stride);
}

#endif
