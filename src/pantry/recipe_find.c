/*
 * recipe_find.c: which ingredient a line of a recipe means. A recipe typed by hand names it by a
 * lot's id, the catalogue's id or its full name; a file that a program wrote, by ids alone.
 */
#include "pantry/recipe_lines.h"

#include "pantry/ingredient.h" /* wf_ingredient_keep */

#include "base/alloc.h"
#include "base/ascii.h"
#include "base/try.h"

#include <string.h>

/* ---- Shelves: the store's lots, then the catalogue's entries --------------------------------- */

enum { STORE, CATALOGUE, SHELF_COUNT };

struct shelf {
    const void *items;
    size_t count, size, name_at; /* bytes of an item, and where its name stands in it */
};

_Static_assert(offsetof(struct wf_malt, id) == 0 && offsetof(struct wf_hop, id) == 0 &&
                   offsetof(struct wf_yeast, id) == 0,
               "ids come first");

#define SHELF(owner, kind)                                                                         \
    (struct shelf)                                                                                 \
    {                                                                                              \
        (owner)->kind##s, (owner)->kind##_count, sizeof(struct wf_##kind),                         \
            offsetof(struct wf_##kind, name)                                                       \
    }

static struct shelf shelf_of(const struct wf_recipe_reading *r, enum wf_kind kind, int which)
{
    const struct wf_store *s = r->store;
    const struct wf_catalogue *c = r->catalogue;
    if (which == STORE && s)
        return kind == WF_KIND_MALT  ? SHELF(s, malt)
               : kind == WF_KIND_HOP ? SHELF(s, hop)
                                     : SHELF(s, yeast);
    if (which == CATALOGUE && c)
        return kind == WF_KIND_MALT  ? SHELF(c, malt)
               : kind == WF_KIND_HOP ? SHELF(c, hop)
                                     : SHELF(c, yeast);
    return (struct shelf){0};
}

static const char *text_at(const struct shelf *s, size_t i, size_t offset)
{
    const void *at = (const char *)s->items + i * s->size + offset;
    return *(const char *const *)at;
}

/* ---- By id and by name ----------------------------------------------------------------------- */

static bool same_but_case(const char *a, const char *b)
{
    while (*a && wf_ascii_lower(*a) == wf_ascii_lower(*b)) {
        a++;
        b++;
    }
    return *a == *b;
}

/* The first item of that id or name, whatever its case, and how many there are. */
static const void *called(const struct shelf *s, const char *who, size_t *count)
{
    const void *first = NULL;
    *count = 0;
    for (size_t i = 0; i < s->count; i++) {
        if (!same_but_case(text_at(s, i, 0), who) && !same_but_case(text_at(s, i, s->name_at), who))
            continue;
        if ((*count)++ == 0)
            first = (const char *)s->items + i * s->size;
    }
    return first;
}

static const void *by_name(const struct wf_recipe_reading *r, enum wf_kind kind, const char *who,
                           size_t *count)
{
    const void *found = NULL;
    for (int which = 0; !found && which < SHELF_COUNT; which++) {
        struct shelf s = shelf_of(r, kind, which);
        found = called(&s, who, count);
    }
    return found;
}

static const void *by_id(const struct wf_recipe_reading *r, enum wf_kind kind, const char *id,
                         const char *is)
{
    struct shelf s = shelf_of(r, kind, STORE);
    for (size_t i = 0; i < s.count; i++)
        if (strcmp(text_at(&s, i, 0), id) == 0)
            return (const char *)s.items + i * s.size;
    return wf_catalogue_entry(r->catalogue, kind, is ? is : id);
}

/* What the line calls it. */
static const char *who_of(const struct cJSON *node)
{
    const char *id = wf_json_string(wf_json_member(node, "id"));
    return id ? id : wf_json_string(wf_json_member(node, "name"));
}

const void *wf_recipe_find(struct wf_json *j, const struct cJSON *node, enum wf_kind kind)
{
    const struct wf_recipe_reading *r = wf_json_user(j);
    const char *who = who_of(node), *is = wf_json_string(wf_json_member(node, "is"));
    size_t count;
    const void *found = who ? by_id(r, kind, who, is) : NULL;
    return found || is || !who ? found : by_name(r, kind, who, &count);
}

/* ---- Refusals -------------------------------------------------------------------------------- */

/* Whether a part of the text is the same but for case. */
static bool holds(const char *text, const char *part)
{
    for (; *text; text++) {
        size_t i = 0;
        while (part[i] && wf_ascii_lower(text[i]) == wf_ascii_lower(part[i]))
            i++;
        if (!part[i])
            return true;
    }
    return false;
}

/* All ids and names, the store's first; NULL: out of memory. */
static const char **all_words(const struct wf_recipe_reading *r, enum wf_kind kind, size_t *count)
{
    struct shelf shelf[SHELF_COUNT] = {shelf_of(r, kind, STORE), shelf_of(r, kind, CATALOGUE)};
    const char **words = wf_alloc(2 * (shelf[0].count + shelf[1].count), sizeof *words);
    *count = 0;
    for (int which = 0; words && which < SHELF_COUNT; which++)
        for (size_t i = 0; i < shelf[which].count; i++) {
            words[(*count)++] = text_at(&shelf[which], i, 0);
            words[(*count)++] = text_at(&shelf[which], i, shelf[which].name_at);
        }
    return words;
}

/* `; the nearest is "..."`: by its letters, or else the first that it is a part of; or "". */
static char *nearest(const struct wf_recipe_reading *r, enum wf_kind kind, const char *who,
                     char out[WF_REASON_MAX])
{
    size_t count;
    const char **words = all_words(r, kind, &count);
    out[0] = '\0';
    if (words)
        wf_json_nearest(who, words, count, out);
    for (size_t i = 0; words && !out[0] && i < count; i++)
        if (holds(words[i], who))
            wf_json_nearest(words[i], &words[i], 1, out);
    wf_free(words);
    return out;
}

/* A line of nobody that gives no id of its own cannot be told from others later on. */
static void refuse_unknown(struct wf_json *j, const struct cJSON *node, enum wf_kind kind,
                           const char *who)
{
    char hint[WF_REASON_MAX];
    const struct cJSON *id = wf_json_member(node, "id");
    wf_json_refuse_read(j, id ? id : wf_json_member(node, "name"),
                        "no %s of this id or name is in the store or the catalogue%s",
                        wf_kind_called(kind), nearest(wf_json_user(j), kind, who, hint));
}

static void refuse_several(struct wf_json *j, const struct cJSON *node, size_t count)
{
    const struct cJSON *id = wf_json_member(node, "id");
    wf_json_refuse_read(j, id ? id : wf_json_member(node, "name"),
                        "%zu lots of the store are called so; give the \"id\" of one", count);
}

/* A lot of one's own is told from others by its id. */
static void refuse_no_id(struct wf_json *j, const struct cJSON *node)
{
    const struct cJSON *id = wf_json_member(node, "id");
    if (id)
        wf_json_refuse_read(j, id, "an id has small letters, digits and single hyphens");
    else
        wf_json_refuse(j, node, "needs \"id\", its own beside \"is\"");
}

const char *wf_recipe_line_id(struct wf_json *j, const struct cJSON *node, enum wf_kind kind)
{
    const struct wf_recipe_reading *r = wf_json_user(j);
    const char *who = who_of(node);
    size_t count = 0;
    if (!who) {
        if (!wf_json_has(node, "id") && !wf_json_has(node, "name"))
            wf_json_refuse(j, node, "needs \"id\" or \"name\", the %s that it is",
                           wf_kind_called(kind));
        return NULL; /* what is no text is refused as such */
    }
    const char *is = wf_json_string(wf_json_member(node, "is"));
    bool own = wf_json_has(node, "id") && wf_json_is_id(who);
    if (own && (is || by_id(r, kind, who, NULL)))
        return wf_ingredient_keep(j, who);
    const void *found = is ? NULL : by_name(r, kind, who, &count);
    if (found && count == 1)
        return wf_ingredient_keep(j, *(const char *const *)found);
    if (found)
        refuse_several(j, node, count);
    else if (own)
        return wf_ingredient_keep(j, who);
    else if (is)
        refuse_no_id(j, node);
    else
        refuse_unknown(j, node, kind, who);
    return NULL;
}

void wf_recipe_check_known(struct wf_json *j, const struct cJSON *node, enum wf_kind kind,
                           const char *const *needs, size_t need_count)
{
    const char *id = wf_json_string(wf_json_member(node, "id")), *missing[8];
    char list[WF_REASON_MAX], hint[WF_REASON_MAX];
    size_t count = 0;
    for (size_t i = 0; i < need_count; i++)
        if (!wf_json_has(node, needs[i]))
            missing[count++] = needs[i];
    if (id && wf_json_is_id(id) && count > 0 && !wf_recipe_find(j, node, kind))
        wf_json_refuse(j, node,
                       "no %s \"%s\" is in the store or the catalogue%s; give \"is\", the entry "
                       "that it is, or else %s",
                       wf_kind_called(kind), id, nearest(wf_json_user(j), kind, id, hint),
                       wf_json_join(missing, count, list));
}
