/* live_blocks.c: the wrapped calls. */
#include "long/live_blocks.h"

#include <stdatomic.h>
#include <stddef.h>

static atomic_long live;

long live_blocks(void)
{
    return atomic_load(&live);
}

/* Names that the linker's --wrap asks for. */
void *__real_malloc(size_t size);
void *__real_calloc(size_t count, size_t size);
void *__real_realloc(void *old, size_t size);
void __real_free(void *p);
void *__wrap_malloc(size_t size);
void *__wrap_calloc(size_t count, size_t size);
void *__wrap_realloc(void *old, size_t size);
void __wrap_free(void *p);

static void *counted(void *p)
{
    if (p != NULL)
        atomic_fetch_add(&live, 1);
    return p;
}

void *__wrap_malloc(size_t size)
{
    return counted(__real_malloc(size));
}

void *__wrap_calloc(size_t count, size_t size)
{
    return counted(__real_calloc(count, size));
}

void *__wrap_realloc(void *old, size_t size)
{
    return old == NULL ? counted(__real_malloc(size)) : __real_realloc(old, size);
}

void __wrap_free(void *p)
{
    if (p != NULL)
        atomic_fetch_sub(&live, 1);
    __real_free(p);
}
