/* swap.c: see swap.h. */
#include "cli/swap.h"

#include "base/number.h"
#include "base/suggest.h"
#include "base/try.h"

#include <math.h>
#include <string.h>

#define PART_MOST 80

struct swap {
    const char *text;
    char weight[PART_MOST], from[PART_MOST], to[PART_MOST];
    struct wf_recipe *r;
    struct wf_error *e;
};

static enum wf_status refuse(const struct swap *w)
{
    return wf_error_add(w->e, WF_USAGE,
                        "option --swap: '%s' is not a swap: write \"200 g vienna-malt for "
                        "munich-malt-light\", or \"all vienna-malt for ...\"",
                        w->text);
}

static bool keep(char out[PART_MOST], const char *start, size_t length)
{
    while (length > 0 && *start == ' ') {
        start++;
        length--;
    }
    while (length > 0 && start[length - 1] == ' ')
        length--;
    if (length == 0 || length >= PART_MOST)
        return false;
    memcpy(out, start, length);
    out[length] = '\0';
    return true;
}

/* "WEIGHT ID for ID": the first id is the last word before "for". */
static bool split(struct swap *w)
{
    const char *between = strstr(w->text, " for ");
    if (!between)
        return false;
    const char *id = between;
    while (id > w->text && id[-1] == ' ')
        id--;
    const char *end = id;
    while (id > w->text && id[-1] != ' ')
        id--;
    return keep(w->from, id, (size_t)(end - id)) &&
           keep(w->weight, w->text, (size_t)(id - w->text)) &&
           keep(w->to, between + 5, strlen(between + 5));
}

static struct wf_recipe_malt *line_of(const struct wf_recipe *r, const char *id)
{
    for (size_t i = 0; i < r->malt_count; i++)
        if (strcmp(r->malts[i].id, id) == 0)
            return &r->malts[i];
    for (size_t i = 0; i < r->malt_count; i++)
        if (r->malts[i].of && strcmp(r->malts[i].of, id) == 0)
            return &r->malts[i];
    return NULL;
}

static enum wf_status not_there(const struct swap *w, const char *id, const char *const *ids,
                                size_t count, const char *where)
{
    int near = wf_suggest(id, ids, count);
    if (near >= 0)
        return wf_error_add(w->e, WF_BAD_INPUT,
                            "option --swap: no malt '%s' in %s, did you mean "
                            "'%s'?",
                            id, where, ids[near]);
    return wf_error_add(w->e, WF_BAD_INPUT, "option --swap: no malt '%s' in %s", id, where);
}

static enum wf_status take(const struct swap *w, struct wf_recipe_malt **from, double *kg)
{
    char why[WF_REASON_MAX];
    *from = line_of(w->r, w->from);
    if (!*from) {
        const char *ids[64];
        size_t count = 0;
        for (size_t i = 0; i < w->r->malt_count && count < WF_COUNT_OF(ids); i++)
            ids[count++] = w->r->malts[i].id;
        return not_there(w, w->from, ids, count, "the recipe");
    }
    if (strcmp(w->weight, "all") == 0) {
        *kg = (*from)->kg;
        return WF_OK;
    }
    if (!wf_quantity_parse(WF_DIM_MASS, w->weight, kg, why))
        return wf_error_add(w->e, WF_USAGE, "option --swap: '%s' %s", w->weight, why);
    if (*kg > (*from)->kg + 1e-9 || !(*kg > 0))
        return wf_error_add(w->e, WF_BAD_INPUT,
                            "option --swap: '%s' is not between 0 and the %.4g kg of %s in the "
                            "recipe",
                            w->weight, (*from)->kg, (*from)->id);
    return WF_OK;
}

static enum wf_status new_line(const struct swap *w, const struct wf_store *s,
                               const struct wf_catalogue *c, struct wf_recipe_malt **line)
{
    const struct wf_malt *m = wf_store_malt(s, w->to);
    if (!m)
        m = wf_catalogue_malt(c, w->to);
    if (!m) {
        const char *ids[256];
        size_t count = 0;
        for (size_t i = 0; i < c->malt_count && count < WF_COUNT_OF(ids); i++)
            ids[count++] = c->malts[i].id;
        return not_there(w, w->to, ids, count, "the recipe, the store or the catalogue");
    }
    size_t had = w->r->malt_count;
    struct wf_recipe_malt *all = wf_arena_alloc(w->r->arena, had + 1, sizeof *all);
    if (!all)
        return wf_error_add(w->e, WF_MEMORY, "out of memory");
    memcpy(all, w->r->malts, had * sizeof *all);
    all[had] = (struct wf_recipe_malt){.id = m->id,
                                       .of = m->of ? m->of : m->id,
                                       .name = m->name,
                                       .class = m->class,
                                       .grain = m->grain,
                                       .usual_most = m->usual_most,
                                       .cost = (double)NAN};
    memcpy(all[had].character, m->character, sizeof all[had].character);
    w->r->malts = all;
    w->r->malt_count++;
    *line = &all[had];
    return WF_OK;
}

/* A malt that is all swapped leaves the recipe. */
static void drop_empty(struct wf_recipe *r)
{
    size_t kept = 0;
    for (size_t i = 0; i < r->malt_count; i++)
        if (r->malts[i].kg > 1e-9)
            r->malts[kept++] = r->malts[i];
    r->malt_count = kept;
}

static void move(struct wf_recipe_malt *from, struct wf_recipe_malt *to, double kg)
{
    double by_kg = from->cost / from->kg, to_by_kg = to->kg > 0 ? to->cost / to->kg : (double)NAN;
    from->kg -= kg;
    to->kg += kg;
    from->cost = by_kg * from->kg;
    to->cost = to_by_kg * to->kg;
}

enum wf_status wf_swap(const char *text, struct wf_recipe *r, const struct wf_store *s,
                       const struct wf_catalogue *c, struct wf_error *e)
{
    struct swap w = {.text = text, .r = r, .e = e};
    struct wf_recipe_malt *from, *to;
    double kg;
    if (!split(&w))
        return refuse(&w);
    WF_TRY(take(&w, &from, &kg));
    if (from == line_of(r, w.to))
        return wf_error_add(e, WF_BAD_INPUT, "option --swap: '%s' swaps a malt for itself", text);
    to = line_of(r, w.to);
    if (!to) {
        size_t at = (size_t)(from - r->malts);
        WF_TRY(new_line(&w, s, c, &to));
        from = &r->malts[at]; /* the lines have moved */
    }
    move(from, to, kg);
    drop_empty(r);
    return wf_recipe_predict(r, e);
}
