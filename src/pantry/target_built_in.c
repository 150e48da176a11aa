/* target_built_in.c: the beers that are embedded in the library, by place, id or alias. */
#include "pantry/built_in.h"
#include "wortfit/pantry.h"

#include "base/alloc.h"
#include "base/try.h"
#include "base/utf8.h"

#include <string.h>

size_t wf_target_builtin_count(void)
{
    size_t count = 0;
    while (wf_embedded_targets[count].name)
        count++;
    return count;
}

enum wf_status wf_target_builtin(size_t index, const struct wf_catalogue *c, struct wf_target **out,
                                 struct wf_error *e)
{
    *out = NULL;
    if (index >= wf_target_builtin_count())
        return wf_error_add(e, WF_USAGE, "there is no built-in beer number %zu", index);
    struct wf_json_source s = wf_built_in_source(&wf_embedded_targets[index]);
    return wf_target_parse(s.name, s.text, s.length, c, out, e);
}

/* ---- By alias -------------------------------------------------------------------------------- */

/* Names of all built-in beers: their ids and aliases, each with the beer's place. */
struct names {
    const char **word;
    size_t *beer;
    size_t count, capacity;
    struct wf_arena *arena;
};

static bool grow(struct names *n)
{
    size_t capacity = n->capacity ? 2 * n->capacity : 128;
    const char **word = wf_realloc(n->word, capacity, sizeof *word);
    n->word = word ? word : n->word;
    size_t *beer = word ? wf_realloc(n->beer, capacity, sizeof *beer) : NULL;
    n->beer = beer ? beer : n->beer;
    n->capacity = beer ? capacity : n->capacity;
    return beer != NULL;
}

static bool add_name(struct names *n, const char *word, size_t beer)
{
    const char *copy = wf_arena_string(n->arena, word);
    if (!copy || (n->count == n->capacity && !grow(n)))
        return false;
    n->word[n->count] = copy;
    n->beer[n->count++] = beer;
    return true;
}

static enum wf_status add_beer(struct names *n, size_t index, struct wf_error *e)
{
    struct wf_target *t;
    WF_TRY(wf_target_builtin(index, NULL, &t, e));
    bool good = add_name(n, t->id, index);
    for (size_t i = 0; good && t->aliases && t->aliases[i]; i++)
        good = add_name(n, t->aliases[i], index);
    wf_target_free(t);
    return good ? WF_OK : wf_error_add(e, WF_MEMORY, "out of memory while looking for a beer");
}

static enum wf_status choose(const struct names *n, const char *name, size_t *index,
                             struct wf_error *e)
{
    char hint[WF_REASON_MAX], shown[64];
    for (size_t i = 0; i < n->count; i++)
        if (strcmp(n->word[i], name) == 0) {
            *index = n->beer[i];
            return WF_OK;
        }
    wf_json_nearest(name, n->word, n->count, hint);
    return wf_error_add(e, WF_BAD_INPUT,
                        "no built-in beer is called \"%s\"%s; a file is given with a \"/\" in it "
                        "or \".json\" at its end",
                        wf_utf8_safe(name, strlen(name), shown, sizeof shown), hint);
}

/* Aliases stand in the files, so all are read. */
static enum wf_status find_by_alias(const char *name, size_t *index, struct wf_error *e)
{
    struct names n = {.arena = wf_arena_new()};
    enum wf_status status =
        n.arena ? WF_OK : wf_error_add(e, WF_MEMORY, "out of memory while looking for a beer");
    for (size_t i = 0; status == WF_OK && i < wf_target_builtin_count(); i++)
        status = add_beer(&n, i, e);
    if (status == WF_OK)
        status = choose(&n, name, index, e);
    wf_free(n.word);
    wf_free(n.beer);
    wf_arena_free(n.arena);
    return status;
}

static bool is_path(const char *name)
{
    size_t length = strlen(name);
    return strcmp(name, "-") == 0 || strchr(name, '/') ||
           (length >= 5 && strcmp(name + length - 5, ".json") == 0);
}

enum wf_status wf_target_find(const char *name, const struct wf_catalogue *c,
                              struct wf_target **out, struct wf_error *e)
{
    size_t index = 0, count = wf_target_builtin_count();
    *out = NULL;
    if (is_path(name))
        return wf_target_read(name, c, out, e);
    while (index < count && strcmp(wf_embedded_targets[index].name, name) != 0)
        index++;
    if (index == count)
        WF_TRY(find_by_alias(name, &index, e));
    return wf_target_builtin(index, c, out, e);
}
