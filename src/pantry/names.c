/* names.c: a hash set with linear probing, never more than half full. */
#include "pantry/names.h"

#include "base/alloc.h"

#include <stdint.h>
#include <string.h>

#define CAPACITY_FIRST 64u

/* FNV-1a, 64 bit (G. Fowler, L. C. Noll, K.-P. Vo), with the scope as its first bytes. */
static uint64_t hash(size_t scope, const char *text, size_t length)
{
    const uint64_t prime = 1099511628211u;
    uint64_t h = (14695981039346656037u ^ scope) * prime;
    for (size_t i = 0; i < length; i++)
        h = (h ^ (unsigned char)text[i]) * prime;
    return h ^ h >> 32;
}

/* The slot that holds the name, or the free one where it belongs. Needs capacity > count. */
static struct wf_name *probe(const struct wf_names *n, size_t scope, const char *text,
                             size_t length)
{
    size_t mask = n->capacity - 1;
    for (size_t i = (size_t)hash(scope, text, length) & mask;; i = (i + 1) & mask) {
        struct wf_name *slot = &n->slots[i];
        if (!slot->text || (slot->scope == scope && slot->length == length &&
                            memcmp(slot->text, text, length) == 0))
            return slot;
    }
}

static enum wf_status grow(struct wf_names *n)
{
    struct wf_names wider = {.capacity = n->capacity ? 2 * n->capacity : CAPACITY_FIRST,
                             .count = n->count};
    wider.slots = wf_alloc(wider.capacity, sizeof *wider.slots);
    if (!wider.slots)
        return WF_MEMORY;
    for (size_t i = 0; i < n->capacity; i++) {
        const struct wf_name *old = &n->slots[i];
        if (old->text)
            *probe(&wider, old->scope, old->text, old->length) = *old;
    }
    wf_free(n->slots);
    *n = wider;
    return WF_OK;
}

enum wf_status wf_names_add(struct wf_names *n, struct wf_name name, const struct wf_name **old)
{
    *old = NULL;
    if (2 * (n->count + 1) > n->capacity && grow(n) != WF_OK)
        return WF_MEMORY;
    struct wf_name *slot = probe(n, name.scope, name.text, name.length);
    if (slot->text) {
        *old = slot;
    } else {
        *slot = name;
        n->count++;
    }
    return WF_OK;
}

const struct wf_name *wf_names_find(const struct wf_names *n, size_t scope, const char *text,
                                    size_t length)
{
    if (n->count == 0)
        return NULL;
    const struct wf_name *slot = probe(n, scope, text, length);
    return slot->text ? slot : NULL;
}

void wf_names_free(struct wf_names *n)
{
    wf_free(n->slots);
    *n = (struct wf_names){0};
}
