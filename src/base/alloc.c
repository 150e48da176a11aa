/* alloc.c: counted allocation that can be made to fail, and arenas on top of it. */
#include "base/alloc.h"

#include "base/number.h"

#include <stdarg.h>
#include <stdbool.h>
#include <stdint.h>
#include <stdlib.h>
#include <string.h>

static _Thread_local long allocations;  /* since the last wf_alloc_fail_at */
static _Thread_local long fail_at = -1; /* its number that fails; -1: none */

void wf_alloc_fail_at(long n)
{
    allocations = 0;
    fail_at = n;
}

long wf_alloc_count(void)
{
    return allocations;
}

/* Counts one request; false where it must fail. At least one byte, so that NULL means failure. */
static bool request(size_t count, size_t size, size_t *bytes)
{
    if (allocations++ == fail_at)
        return false;
    if (count == 0)
        count = 1;
    if (size == 0)
        size = 1;
    if (count > PTRDIFF_MAX / size)
        return false;
    *bytes = count * size;
    return true;
}

void *wf_alloc(size_t count, size_t size)
{
    size_t bytes;
    return request(count, size, &bytes) ? calloc(1, bytes) : NULL;
}

void *wf_realloc(void *old, size_t count, size_t size)
{
    size_t bytes;
    return request(count, size, &bytes) ? realloc(old, bytes) : NULL;
}

void wf_free(void *p)
{
    free(p);
}

/* ---- Arenas ---------------------------------------------------------------------------------- */

#define BLOCK_LEAST 4096u
#define BLOCK_MOST  ((size_t)256 * 1024)

struct block {
    struct block *next; /* the one filled before it */
    size_t used, size;  /* bytes of data */
    max_align_t data[];
};

struct wf_arena {
    struct block *head; /* the one being filled */
    size_t next_size;   /* of the next ordinary block: they double */
};

struct wf_arena *wf_arena_new(void)
{
    struct wf_arena *a = wf_alloc(1, sizeof *a);
    if (a)
        a->next_size = BLOCK_LEAST;
    return a;
}

void wf_arena_free(struct wf_arena *a)
{
    if (!a)
        return;
    for (struct block *b = a->head, *next; b; b = next) {
        next = b->next;
        wf_free(b);
    }
    wf_free(a);
}

static struct block *add_block(struct wf_arena *a, size_t bytes)
{
    size_t size = bytes > a->next_size ? bytes : a->next_size;
    struct block *b = wf_alloc(1, sizeof *b + size);
    if (!b)
        return NULL;
    b->size = size;
    b->next = a->head;
    a->head = b;
    if (a->next_size < BLOCK_MOST)
        a->next_size *= 2;
    return b;
}

void *wf_arena_alloc(struct wf_arena *a, size_t count, size_t size)
{
    const size_t align = _Alignof(max_align_t);
    if (size > 0 && count > (PTRDIFF_MAX - sizeof(struct block) - align) / size)
        return NULL;
    size_t bytes = (count * size + align - 1) / align * align;
    struct block *b = a->head;
    if (!b || b->size - b->used < bytes)
        b = add_block(a, bytes);
    if (!b)
        return NULL;
    char *p = (char *)b->data + b->used;
    b->used += bytes;
    return p;
}

char *wf_arena_copy(struct wf_arena *a, const char *text, size_t length)
{
    char *copy = length < SIZE_MAX ? wf_arena_alloc(a, length + 1, 1) : NULL;
    if (copy && length > 0)
        memcpy(copy, text, length);
    return copy;
}

char *wf_arena_string(struct wf_arena *a, const char *text)
{
    return text ? wf_arena_copy(a, text, strlen(text)) : NULL;
}

char *wf_arena_print(struct wf_arena *a, const char *format, ...)
{
    va_list args;
    va_start(args, format);
    int length = wf_vsnprintf(NULL, 0, format, args);
    va_end(args);
    char *out = length < 0 ? NULL : wf_arena_alloc(a, (size_t)length + 1, 1);
    if (!out)
        return NULL;
    va_start(args, format);
    wf_vsnprintf(out, (size_t)length + 1, format, args);
    va_end(args);
    return out;
}
