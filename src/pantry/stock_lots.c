/* stock_lots.c: which lot of the store a change means. */
#include "pantry/stock_parts.h"

#include "pantry/catalogue.h"

#include "base/alloc.h"
#include "base/suggest.h"
#include "base/try.h"
#include "base/utf8.h"

#include <string.h>

/* ---- Ids ------------------------------------------------------------------------------------- */

struct ids {
    const char **ids;
    size_t count;
};

/* Those of a store, or of the catalogue, which holds the same lists. */
static void add_ids(struct ids *to, const struct wf_malt *malts, size_t malt_count,
                    const struct wf_hop *hops, size_t hop_count, const struct wf_yeast *yeasts,
                    size_t yeast_count)
{
    for (size_t i = 0; i < malt_count; i++)
        to->ids[to->count++] = malts[i].id;
    for (size_t i = 0; i < hop_count; i++)
        to->ids[to->count++] = hops[i].id;
    for (size_t i = 0; i < yeast_count; i++)
        to->ids[to->count++] = yeasts[i].id;
}

static char *nearest_in(struct ids *all, const char *id, char out[WF_REASON_MAX])
{
    out[0] = '\0';
    if (all->ids)
        wf_json_nearest(id, all->ids, all->count, out);
    wf_free(all->ids);
    return out;
}

/* "; the nearest is ...", or "" also where memory runs out: the message is told without it. */
static char *nearest_lot(const struct wf_store *s, const char *id, char out[WF_REASON_MAX])
{
    struct ids all = {.ids =
                          wf_alloc(s->malt_count + s->hop_count + s->yeast_count, sizeof *all.ids)};
    if (all.ids)
        add_ids(&all, s->malts, s->malt_count, s->hops, s->hop_count, s->yeasts, s->yeast_count);
    return nearest_in(&all, id, out);
}

static char *nearest_entry(const struct wf_catalogue *c, const char *id, char out[WF_REASON_MAX])
{
    struct ids all = {.ids =
                          wf_alloc(c->malt_count + c->hop_count + c->yeast_count, sizeof *all.ids)};
    if (all.ids)
        add_ids(&all, c->malts, c->malt_count, c->hops, c->hop_count, c->yeasts, c->yeast_count);
    return nearest_in(&all, id, out);
}

/* ---- Opening --------------------------------------------------------------------------------- */

static enum wf_status know(struct wf_stock_lots *l, enum wf_kind kind, const char *id)
{
    const struct wf_name *old;
    struct wf_name name = {
        .text = id, .length = strlen(id), .scope = kind, .value = l->count[kind]++};
    return wf_names_add(&l->names, name, &old);
}

enum wf_status wf_stock_lots_open(struct wf_stock_lots *l, const struct wf_store *s,
                                  const struct wf_catalogue *c)
{
    *l = (struct wf_stock_lots){.store = s, .catalogue = c};
    for (size_t i = 0; i < s->malt_count; i++)
        WF_TRY(know(l, WF_KIND_MALT, s->malts[i].id));
    for (size_t i = 0; i < s->hop_count; i++)
        WF_TRY(know(l, WF_KIND_HOP, s->hops[i].id));
    for (size_t i = 0; i < s->yeast_count; i++)
        WF_TRY(know(l, WF_KIND_YEAST, s->yeasts[i].id));
    return WF_OK;
}

void wf_stock_lots_close(struct wf_stock_lots *l)
{
    wf_names_free(&l->names);
    wf_names_free(&l->changed);
}

/* ---- Finding --------------------------------------------------------------------------------- */

const struct wf_stock_field *wf_stock_field_of(const struct wf_stock_change *c, const char *key)
{
    for (size_t i = 0; i < c->field_count; i++)
        if (strcmp(c->fields[i].key, key) == 0)
            return &c->fields[i];
    return NULL;
}

static const char *place_of(const struct wf_stock_change *c)
{
    return c->place ? c->place : c->id;
}

/* The only kind in which `has` finds the id; WF_KIND_COUNT after a message, or where no kind does.
 */
static enum wf_kind only_kind(const bool has[WF_KIND_COUNT], const struct wf_stock_change *c,
                              const char *id, struct wf_error *e)
{
    enum wf_kind found[WF_KIND_COUNT] = {WF_KIND_COUNT};
    size_t count = 0;
    for (int kind = 0; kind < WF_KIND_COUNT; kind++)
        if (has[kind])
            found[count++] = (enum wf_kind)kind;
    if (count < 2)
        return found[0];
    wf_error_add(e, WF_BAD_INPUT, "%s: a %s and a %s are called \"%s\"; give the kind", place_of(c),
                 wf_kind_called(found[0]), wf_kind_called(found[1]), id);
    return WF_KIND_COUNT;
}

static void refuse_absent(const struct wf_stock_lots *l, const struct wf_stock_change *c,
                          struct wf_error *e)
{
    char hint[WF_REASON_MAX];
    const struct wf_stock_field *named = wf_stock_field_of(c, wf_stock_kind_key);
    enum wf_kind kind = c->kind == WF_KIND_COUNT && named ? wf_stock_kind_of(named->text) : c->kind;
    wf_error_add(e, WF_BAD_INPUT, "%s: no %s of the store is called \"%s\"%s", place_of(c),
                 kind == WF_KIND_COUNT ? "lot" : wf_kind_called(kind), c->id,
                 nearest_lot(l->store, c->id, hint));
}

/* The kind of a lot that is to be added, by the entry that it is. */
static enum wf_kind kind_of_new(const struct wf_stock_lots *l, const struct wf_stock_change *c,
                                struct wf_error *e)
{
    const struct wf_stock_field *is = wf_stock_field_of(c, "is");
    const char *entry = is && *is->text ? is->text : c->id;
    bool has[WF_KIND_COUNT], none = true;
    char hint[WF_REASON_MAX];
    for (int kind = 0; kind < WF_KIND_COUNT; kind++) {
        has[kind] = wf_catalogue_entry(l->catalogue, (enum wf_kind)kind, entry) != NULL;
        none = none && !has[kind];
    }
    if (!none)
        return only_kind(has, c, entry, e);
    wf_error_add(e, WF_BAD_INPUT,
                 "%s: no malt, hop or yeast \"%s\" is in the catalogue%s; give \"is\", the entry "
                 "that it is, or else its kind and all its figures",
                 place_of(c), entry, nearest_entry(l->catalogue, entry, hint));
    return WF_KIND_COUNT;
}

static bool may_add(const struct wf_stock_change *c)
{
    return c->deed == WF_STOCK_ADD || c->deed == WF_STOCK_PUT;
}

/* The kind that a change names; WF_KIND_COUNT after a message. */
static enum wf_kind named_kind(const struct wf_stock_field *f, struct wf_error *e)
{
    char safe[64];
    enum wf_kind kind = wf_stock_kind_of(f->text);
    if (kind == WF_KIND_COUNT)
        wf_error_add(e, WF_BAD_INPUT, "%s: read \"%s\"; must be malt, hop or yeast",
                     f->place ? f->place : f->key,
                     wf_utf8_safe(f->text, strlen(f->text), safe, sizeof safe));
    return kind;
}

/* The kind of the change's lot; WF_KIND_COUNT after a message. */
static enum wf_kind find_kind(const struct wf_stock_lots *l, const struct wf_stock_change *c,
                              struct wf_error *e)
{
    bool has[WF_KIND_COUNT], none = true;
    const struct wf_stock_field *named = wf_stock_field_of(c, wf_stock_kind_key);
    if (*c->id == '\0') {
        wf_error_add(e, WF_BAD_INPUT, "%s: is empty; it says which lot it is", place_of(c));
        return WF_KIND_COUNT;
    }
    if (c->kind != WF_KIND_COUNT)
        return c->kind;
    if (named)
        return named_kind(named, e);
    for (int kind = 0; kind < WF_KIND_COUNT; kind++) {
        has[kind] = wf_names_find(&l->names, (size_t)kind, c->id, strlen(c->id)) != NULL;
        none = none && !has[kind];
    }
    if (!none)
        return only_kind(has, c, c->id, e);
    if (may_add(c))
        return kind_of_new(l, c, e);
    refuse_absent(l, c, e);
    return WF_KIND_COUNT;
}

/* One change a lot: two would not know of each other. False: refused. */
static enum wf_status note_changed(struct wf_stock_lots *l, const struct wf_stock_change *changes,
                                   size_t n, enum wf_kind kind, bool *good, struct wf_error *e)
{
    const struct wf_name *old;
    const struct wf_stock_change *c = &changes[n];
    struct wf_name name = {.text = c->id, .length = strlen(c->id), .scope = kind, .value = n};
    WF_TRY(wf_names_add(&l->changed, name, &old));
    *good = old == NULL;
    if (old)
        wf_error_add(e, WF_BAD_INPUT, "%s: \"%s\" stood before, at %s; give each lot once",
                     place_of(c), c->id, place_of(&changes[old->value]));
    return WF_OK;
}

enum wf_status wf_stock_lots_find(struct wf_stock_lots *l, const struct wf_stock_change *changes,
                                  size_t n, struct wf_stock_lot *out, struct wf_error *e)
{
    const struct wf_stock_change *c = &changes[n];
    *out = (struct wf_stock_lot){.kind = find_kind(l, c, e)};
    if (out->kind == WF_KIND_COUNT)
        return WF_OK;
    bool good;
    WF_TRY(note_changed(l, changes, n, out->kind, &good, e));
    if (!good)
        return WF_OK;
    const struct wf_name *name = wf_names_find(&l->names, out->kind, c->id, strlen(c->id));
    out->there = name != NULL;
    if (!out->there && !may_add(c)) {
        refuse_absent(l, c, e);
    } else if (out->there && c->deed == WF_STOCK_ADD) {
        wf_error_add(e, WF_BAD_INPUT,
                     "%s: \"%s\" is in the store already, as %s[%zu]; set that one, or give this "
                     "one a name of its own, with \"is\" for the catalogue's",
                     place_of(c), c->id, wf_stock_list_key(out->kind), name->value);
    } else {
        out->known = true;
        out->index = name ? name->value : l->count[out->kind]++;
    }
    return WF_OK;
}
