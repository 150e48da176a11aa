/* store.c: what a brewer has, or what a shop sells. */
#include "pantry/brew_pair.h"
#include "pantry/built_in.h"
#include "pantry/ingredient.h"
#include "pantry/store_text.h"
#include "pantry/tables.h"

#include "base/alloc.h"
#include "base/try.h"

struct store_file {
    const char *name, *currency, *note;
    struct wf_json_list malts, hops, yeasts;
};

#define TEXT_AT(member) WF_JSON_AT(struct store_file, member, const char *)
#define LIST_AT(member) WF_JSON_AT(struct store_file, member, struct wf_json_list)

static const struct wf_json_field store_fields[] = {
    {.key = "store", .read = wf_json_text, .offset = TEXT_AT(name), .high = 200, .required = true},
    {.key = "currency", .read = wf_json_text, .offset = TEXT_AT(currency), .high = 8},
    {.key = "note", .read = wf_json_text, .offset = TEXT_AT(note)},
    {.key = "malts",
     .read = wf_json_list,
     .offset = LIST_AT(malts),
     .table = &wf_malt_table,
     .high = WF_LOTS_MOST,
     .required = true},
    {.key = "hops",
     .read = wf_json_list,
     .offset = LIST_AT(hops),
     .table = &wf_hop_table,
     .high = WF_LOTS_MOST},
    {.key = "yeasts",
     .read = wf_json_list,
     .offset = LIST_AT(yeasts),
     .table = &wf_yeast_table,
     .high = WF_LOTS_MOST},
};

static void store_after(struct wf_json *j, const struct cJSON *node, void *at)
{
    const struct store_file *file = at;
    if (file->malts.items && file->malts.count == 0)
        wf_json_refuse(j, wf_json_member(node, "malts"),
                       "no malts; a store needs at least one, such as "
                       "{ \"id\": \"pilsner-malt\", \"have\": \"5 kg\" }");
}

const struct wf_json_table wf_store_table = {
    .fields = store_fields,
    .field_count = WF_COUNT_OF(store_fields),
    .after = store_after,
};

static enum wf_status read_file(const struct wf_json_source *source,
                                const struct wf_json_teller *teller, const struct wf_catalogue *c,
                                struct wf_arena *arena, struct store_file *file, struct wf_error *e)
{
    struct wf_ingredient_reading reading = {.catalogue = c};
    enum wf_status status =
        wf_json_read_told(source, teller, &wf_store_table, &reading, arena, file, e);
    wf_names_free(&reading.ids);
    return status;
}

static bool fill(struct wf_store *s, const struct store_file *file)
{
    struct wf_arena *a = s->arena;
    s->name = file->name;
    s->currency = file->currency;
    s->note = file->note;
    s->malts = wf_ingredient_pack(a, &file->malts, &wf_malt_table, sizeof *s->malts);
    s->hops = wf_ingredient_pack(a, &file->hops, &wf_hop_table, sizeof *s->hops);
    s->yeasts = wf_ingredient_pack(a, &file->yeasts, &wf_yeast_table, sizeof *s->yeasts);
    s->malt_count = file->malts.count;
    s->hop_count = file->hops.count;
    s->yeast_count = file->yeasts.count;
    return s->malts && s->hops && s->yeasts;
}

enum wf_status wf_store_parse_told(const struct wf_json_source *source,
                                   const struct wf_json_teller *teller,
                                   const struct wf_catalogue *c, struct wf_store **out,
                                   struct wf_error *e)
{
    struct store_file file = {.currency = ""};
    enum wf_status status = WF_OK;
    *out = NULL;
    struct wf_arena *arena = wf_arena_new();
    struct wf_store *s = arena ? wf_arena_alloc(arena, 1, sizeof *s) : NULL;
    if (!s) {
        status = wf_json_out_of_memory(source, e);
        goto done;
    }
    s->arena = arena;
    WF_TRY_GOTO(read_file(source, teller, c, arena, &file, e));
    if (!fill(s, &file)) {
        status = wf_json_out_of_memory(source, e);
        goto done;
    }
    *out = s;
    arena = NULL; /* handed over */
done:
    wf_arena_free(arena);
    return status;
}

enum wf_status wf_store_parse(const char *name, const char *text, size_t length,
                              const struct wf_catalogue *c, struct wf_store **out,
                              struct wf_error *e)
{
    const struct wf_json_source source = {name, text, length};
    return wf_store_parse_told(&source, NULL, c, out, e);
}

enum wf_status wf_store_read(const char *path, const struct wf_catalogue *c, struct wf_store **out,
                             struct wf_error *e)
{
    struct wf_source_file file;
    *out = NULL;
    WF_TRY(wf_pair_read_store(path, &file, e));
    enum wf_status status = wf_store_parse(file.name, file.text, file.length, c, out, e);
    wf_source_file_close(&file);
    return status;
}

enum wf_status wf_store_sample(const struct wf_catalogue *c, struct wf_store **out,
                               struct wf_error *e)
{
    struct wf_json_source source;
    *out = NULL;
    WF_TRY(wf_built_in_find(wf_embedded_catalogue, "sample-shop", &source, e));
    return wf_store_parse_told(&source, NULL, c, out, e);
}

void wf_store_free(struct wf_store *s)
{
    if (s)
        wf_arena_free(s->arena);
}
