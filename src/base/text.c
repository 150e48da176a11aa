/* text.c: a string that doubles its room as it grows. */
#include "base/text.h"

#include "base/alloc.h"
#include "base/number.h"

#include <stdarg.h>
#include <stdint.h>
#include <string.h>

#define CAPACITY_LEAST 128u

/* Room for `more` bytes and the NUL after them. */
static bool reserve(struct wf_text *t, size_t more)
{
    if (t->failed)
        return false;
    if (t->data && more < t->capacity - t->length)
        return true;
    size_t capacity = t->capacity > CAPACITY_LEAST ? t->capacity : CAPACITY_LEAST;
    while (capacity - t->length <= more && capacity <= SIZE_MAX / 2)
        capacity *= 2;
    char *data = capacity - t->length > more ? wf_realloc(t->data, capacity, 1) : NULL;
    if (!data) {
        t->failed = true;
        return false;
    }
    t->data = data;
    t->capacity = capacity;
    return true;
}

void wf_text_append(struct wf_text *t, const char *bytes, size_t length)
{
    if (!reserve(t, length))
        return;
    if (length > 0)
        memcpy(t->data + t->length, bytes, length);
    t->length += length;
    t->data[t->length] = '\0';
}

void wf_text_add(struct wf_text *t, const char *format, ...)
{
    va_list args;
    va_start(args, format);
    int length = wf_vsnprintf(NULL, 0, format, args);
    va_end(args);
    if (length < 0)
        t->failed = true;
    if (length < 0 || !reserve(t, (size_t)length))
        return;
    va_start(args, format);
    wf_vsnprintf(t->data + t->length, (size_t)length + 1, format, args);
    va_end(args);
    t->length += (size_t)length;
}

void wf_text_free(struct wf_text *t)
{
    wf_free(t->data);
    *t = (struct wf_text){0};
}
