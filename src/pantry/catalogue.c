/* catalogue.c: the embedded reference data, read by the tables that read a user's file. */
#include "pantry/catalogue.h"

#include "pantry/built_in.h"
#include "pantry/ingredient.h"

#include "base/alloc.h"
#include "base/try.h"

#include <string.h>

/* ---- Kinds ----------------------------------------------------------------------------------- */

/* One list of a catalogue; each item begins with its id. */
struct shelf {
    const void *items;
    size_t count, size;
};

static struct shelf shelf_of(const struct wf_catalogue *c, enum wf_kind kind)
{
    const struct shelf shelves[WF_KIND_COUNT] = {
        [WF_KIND_MALT] = {c->malts, c->malt_count, sizeof *c->malts},
        [WF_KIND_HOP] = {c->hops, c->hop_count, sizeof *c->hops},
        [WF_KIND_YEAST] = {c->yeasts, c->yeast_count, sizeof *c->yeasts},
    };
    return shelves[kind];
}
_Static_assert(offsetof(struct wf_malt, id) == 0 && offsetof(struct wf_hop, id) == 0 &&
                   offsetof(struct wf_yeast, id) == 0,
               "ids come first");

static const void *item_at(const struct shelf *s, size_t i)
{
    return (const char *)s->items + i * s->size;
}

static const char *id_at(const struct shelf *s, size_t i)
{
    return *(const char *const *)item_at(s, i);
}

const char *wf_kind_called(enum wf_kind kind)
{
    static const char *const called[] = {
        [WF_KIND_MALT] = "malt", [WF_KIND_HOP] = "hop", [WF_KIND_YEAST] = "yeast"};
    return called[kind];
}

/* ---- Looking up ------------------------------------------------------------------------------ */

const void *wf_catalogue_entry(const struct wf_catalogue *c, enum wf_kind kind, const char *id)
{
    if (!c || !id)
        return NULL;
    struct shelf shelf = shelf_of(c, kind);
    if (c->index) {
        const struct wf_name *name = wf_names_find(c->index, kind, id, strlen(id));
        return name ? item_at(&shelf, name->value) : NULL;
    }
    for (size_t i = 0; i < shelf.count; i++)
        if (strcmp(id_at(&shelf, i), id) == 0)
            return item_at(&shelf, i);
    return NULL;
}

const struct wf_malt *wf_catalogue_malt(const struct wf_catalogue *c, const char *id)
{
    return wf_catalogue_entry(c, WF_KIND_MALT, id);
}

const struct wf_hop *wf_catalogue_hop(const struct wf_catalogue *c, const char *id)
{
    return wf_catalogue_entry(c, WF_KIND_HOP, id);
}

const struct wf_yeast *wf_catalogue_yeast(const struct wf_catalogue *c, const char *id)
{
    return wf_catalogue_entry(c, WF_KIND_YEAST, id);
}

char *wf_catalogue_nearest(const struct wf_catalogue *c, enum wf_kind kind, const char *id,
                           char out[WF_REASON_MAX])
{
    out[0] = '\0';
    if (!c)
        return out;
    struct shelf shelf = shelf_of(c, kind);
    const char **ids = wf_alloc(shelf.count, sizeof *ids);
    for (size_t i = 0; ids && i < shelf.count; i++)
        ids[i] = id_at(&shelf, i);
    if (ids)
        wf_json_nearest(id, ids, shelf.count, out);
    wf_free(ids);
    return out;
}

/* ---- Reading --------------------------------------------------------------------------------- */

#define ENTRIES_MOST 1000

struct catalogue_file {
    struct wf_json_list items;
};

/* The file of each kind, "malts.json" with its "malts", is read by a table of one row. */
static const struct wf_json_field shelf_fields[WF_KIND_COUNT] = {
    [WF_KIND_MALT] = {.key = "malts",
                      .read = wf_json_list,
                      .table = &wf_malt_table,
                      .offset = offsetof(struct catalogue_file, items),
                      .low = 1,
                      .high = ENTRIES_MOST,
                      .required = true},
    [WF_KIND_HOP] = {.key = "hops",
                     .read = wf_json_list,
                     .table = &wf_hop_table,
                     .offset = offsetof(struct catalogue_file, items),
                     .low = 1,
                     .high = ENTRIES_MOST,
                     .required = true},
    [WF_KIND_YEAST] = {.key = "yeasts",
                       .read = wf_json_list,
                       .table = &wf_yeast_table,
                       .offset = offsetof(struct catalogue_file, items),
                       .low = 1,
                       .high = ENTRIES_MOST,
                       .required = true},
};

static enum wf_status read_shelf(enum wf_kind kind, struct wf_ingredient_reading *reading,
                                 struct wf_arena *arena, struct wf_json_list *out,
                                 struct wf_error *e)
{
    const struct wf_json_field *field = &shelf_fields[kind];
    const struct wf_json_table table = {.fields = field, .field_count = 1};
    struct catalogue_file file = {0};
    struct wf_json_source source;
    WF_TRY(wf_built_in_find(wf_embedded_catalogue, field->key, &source, e));
    WF_TRY(wf_json_read(&source, &table, reading, arena, &file, e));
    *out = file.items;
    return WF_OK;
}

static enum wf_status fill(struct wf_catalogue *c, struct wf_ingredient_reading *reading,
                           struct wf_error *e)
{
    struct wf_json_list list[WF_KIND_COUNT];
    for (int kind = 0; kind < WF_KIND_COUNT; kind++)
        WF_TRY(read_shelf((enum wf_kind)kind, reading, c->arena, &list[kind], e));
    c->malts = wf_ingredient_pack(c->arena, &list[WF_KIND_MALT], &wf_malt_table, sizeof *c->malts);
    c->hops = wf_ingredient_pack(c->arena, &list[WF_KIND_HOP], &wf_hop_table, sizeof *c->hops);
    c->yeasts =
        wf_ingredient_pack(c->arena, &list[WF_KIND_YEAST], &wf_yeast_table, sizeof *c->yeasts);
    if (!c->malts || !c->hops || !c->yeasts)
        return wf_error_add(e, WF_MEMORY, "out of memory while reading the catalogue");
    c->malt_count = list[WF_KIND_MALT].count;
    c->hop_count = list[WF_KIND_HOP].count;
    c->yeast_count = list[WF_KIND_YEAST].count;
    return WF_OK;
}

static struct wf_catalogue *catalogue_new(void)
{
    struct wf_arena *arena = wf_arena_new();
    struct wf_catalogue *c = arena ? wf_arena_alloc(arena, 1, sizeof *c) : NULL;
    if (!c) {
        wf_arena_free(arena);
        return NULL;
    }
    c->arena = arena;
    return c;
}

/* The names that were gathered to find ids given twice serve as the index. */
enum wf_status wf_catalogue_read(struct wf_catalogue **out, struct wf_error *e)
{
    struct wf_ingredient_reading reading = {.reference = true};
    *out = NULL;
    struct wf_catalogue *c = catalogue_new();
    struct wf_names *index = c ? wf_arena_alloc(c->arena, 1, sizeof *index) : NULL;
    if (!index) {
        wf_catalogue_free(c);
        return wf_error_add(e, WF_MEMORY, "out of memory while reading the catalogue");
    }
    enum wf_status status = fill(c, &reading, e);
    *index = reading.ids;
    c->index = index;
    if (status != WF_OK) {
        wf_catalogue_free(c);
        return status;
    }
    *out = c;
    return WF_OK;
}

void wf_catalogue_free(struct wf_catalogue *c)
{
    if (!c)
        return;
    if (c->index)
        wf_names_free(c->index);
    wf_arena_free(c->arena);
}
