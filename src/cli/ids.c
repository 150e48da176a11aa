/* ids.c: see ids.h. Words known are gathered into one list, which serves the check and the nearest.
 */
#include "cli/ids.h"

#include "base/suggest.h"

#include <string.h>

struct known {
    const char **words;
    size_t count;
};

static size_t length_of(const char *const *list)
{
    size_t n = 0;
    while (list && list[n])
        n++;
    return n;
}

bool wf_ids_have(const char *const *list, const char *id)
{
    for (; list && *list; list++)
        if (strcmp(*list, id) == 0)
            return true;
    return false;
}

static void know(struct known *k, const char *word)
{
    if (word)
        k->words[k->count++] = word;
}

static void know_malts_and_hops(struct known *k, const struct wf_catalogue *c,
                                const struct wf_store *s)
{
    for (size_t i = 0; i < c->malt_count; i++)
        know(k, c->malts[i].id);
    for (size_t i = 0; i < c->hop_count; i++)
        know(k, c->hops[i].id);
    for (size_t i = 0; i < s->malt_count; i++)
        know(k, s->malts[i].id);
    for (size_t i = 0; i < s->hop_count; i++)
        know(k, s->hops[i].id);
}

static void know_yeasts(struct known *k, const struct wf_catalogue *c, const struct wf_store *s)
{
    for (size_t i = 0; i < c->yeast_count; i++) {
        know(k, c->yeasts[i].id);
        know(k, c->yeasts[i].family);
    }
    for (size_t i = 0; i < s->yeast_count; i++) {
        know(k, s->yeasts[i].id);
        know(k, s->yeasts[i].family);
    }
}

static void check_one(const char *id, const struct known *k, const char *what, struct wf_error *e)
{
    for (size_t i = 0; i < k->count; i++)
        if (strcmp(k->words[i], id) == 0)
            return;
    int near = wf_suggest(id, k->words, k->count);
    if (near >= 0)
        wf_error_add(e, WF_BAD_INPUT, "no %s is called '%s', did you mean '%s'?", what, id,
                     k->words[near]);
    else
        wf_error_add(e, WF_BAD_INPUT, "no %s is called '%s'", what, id);
}

static void check_all(const char *const *list, const struct known *k, const char *what,
                      struct wf_error *e)
{
    for (; list && *list; list++)
        check_one(*list, k, what, e);
}

enum wf_status wf_ids_check(const char *const *use, const char *const *avoid,
                            const char *const *yeasts, const struct wf_catalogue *c,
                            const struct wf_store *s, struct wf_error *e)
{
    size_t room = c->malt_count + c->hop_count + s->malt_count + s->hop_count +
                  2 * (c->yeast_count + s->yeast_count);
    struct known k = {.words = wf_alloc(room, sizeof *k.words)};
    if (!k.words)
        return wf_error_add(e, WF_MEMORY, "out of memory");
    know_malts_and_hops(&k, c, s);
    check_all(use, &k, "malt or hop", e);
    check_all(avoid, &k, "malt or hop", e);
    k.count = 0;
    know_yeasts(&k, c, s);
    check_all(yeasts, &k, "yeast or family", e);
    wf_free(k.words);
    return e->count > 0 ? e->status : WF_OK;
}

static void add_all(const char **out, size_t *n, const char *const *list,
                    const char *const *without)
{
    for (; list && *list; list++)
        if (!wf_ids_have(without, *list))
            out[(*n)++] = *list;
}

enum wf_status wf_ids_join(const char *const *first, const char *const *second,
                           const char *const *without, struct wf_arena *arena,
                           const char *const **out, struct wf_error *e)
{
    size_t n = 0;
    const char **joined =
        wf_arena_alloc(arena, length_of(first) + length_of(second) + 1, sizeof *joined);
    if (!joined)
        return wf_error_add(e, WF_MEMORY, "out of memory");
    add_all(joined, &n, first, without);
    add_all(joined, &n, second, without);
    *out = n > 0 ? joined : NULL;
    return WF_OK;
}
