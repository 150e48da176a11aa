/* store_lot.c: a store's lot by its id. */
#include "wortfit/pantry.h"

#include <string.h>

/* `items` are `count` structs of `size` bytes that begin with their id. */
static const void *lot_of(const char *id, const void *items, size_t count, size_t size)
{
    for (size_t i = 0; id && i < count; i++) {
        const void *item = (const char *)items + i * size;
        if (strcmp(*(const char *const *)item, id) == 0)
            return item;
    }
    return NULL;
}

#define DEFINE_LOT(kind)                                                                           \
    const struct wf_##kind *wf_store_##kind(const struct wf_store *s, const char *id)              \
    {                                                                                              \
        _Static_assert(offsetof(struct wf_##kind, id) == 0, "ids come first");                     \
        return s ? lot_of(id, s->kind##s, s->kind##_count, sizeof *s->kind##s) : NULL;             \
    }
DEFINE_LOT(malt)
DEFINE_LOT(hop)
DEFINE_LOT(yeast)
