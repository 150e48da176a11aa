/* lister.c: see lister.h. */
#include "cli/lister.h"

#include "base/ascii.h"
#include "base/suggest.h"
#include "base/try.h"
#include "cli/ids.h"
#include "cli/terminal.h"

#include <string.h>

const char *const wf_unit_words[] = {[WF_UNITS_METRIC] = "metric", [WF_UNITS_US] = "us", NULL};

bool wf_text_holds(const char *text, const char *part)
{
    for (; text && *text; text++) {
        size_t i = 0;
        while (part[i] && wf_ascii_lower(text[i]) == wf_ascii_lower(part[i]))
            i++;
        if (!part[i])
            return true;
    }
    return false;
}

bool wf_ranges_meet(struct wf_range a, struct wf_range b)
{
    return a.low <= b.high && b.low <= a.high;
}

bool wf_choice_excludes(const struct wf_choices *c, int index)
{
    for (size_t i = 0; i < c->count; i++)
        if (c->picked[i] == index)
            return false;
    return c->count > 0;
}

/* ---- By name --------------------------------------------------------------------------------- */

static const char *text_of(const struct wf_field *f, const void *item)
{
    const void *at = (const char *)item + f->offset;
    return *(const char *const *)at;
}

static const char *id_of(const struct wf_lister *l, const void *item)
{
    return text_of(&l->kind->fields[0], item);
}

static bool is_called(const struct wf_lister *l, const void *item, const char *name)
{
    return strcmp(id_of(l, item), name) == 0 || (l->aliases && wf_ids_have(l->aliases(item), name));
}

static enum wf_status name_the_nearest(const struct wf_lister *l, const void *const *items,
                                       size_t count, const char *name, struct wf_error *e)
{
    const char **ids = wf_alloc(count, sizeof *ids);
    if (!ids)
        return wf_error_add(e, WF_MEMORY, "out of memory");
    for (size_t i = 0; i < count; i++)
        ids[i] = id_of(l, items[i]);
    int near = wf_suggest(name, ids, count);
    if (near >= 0)
        wf_error_add(e, WF_BAD_INPUT, "no %s is called '%s', did you mean '%s'?", l->one, name,
                     ids[near]);
    else
        wf_error_add(e, WF_BAD_INPUT, "no %s is called '%s', see 'wortfit %s'", l->one, name,
                     l->kind->plural);
    wf_free(ids);
    return WF_BAD_INPUT;
}

/* Moves those with `name` in their id or name to the front; returns how many. */
static size_t pick_parts(const struct wf_lister *l, const void **items, size_t count,
                         const char *name)
{
    size_t kept = 0;
    for (size_t i = 0; i < count; i++)
        if (wf_text_holds(id_of(l, items[i]), name) ||
            wf_text_holds(text_of(&l->kind->fields[1], items[i]), name))
            items[kept++] = items[i];
    return kept;
}

/* ---- By filters ------------------------------------------------------------------------------ */

static size_t pick_kept(const struct wf_lister *l, const void **items, size_t count,
                        const void *options)
{
    size_t kept = 0;
    for (size_t i = 0; i < count; i++)
        if (l->keep(items[i], options))
            items[kept++] = items[i];
    return kept;
}

/* The best first; those alike stay in their order. Lists are short. */
static void sort_by_rank(const struct wf_lister *l, const void **items, size_t count,
                         const void *options)
{
    for (size_t i = 1; l->rank && i < count; i++) {
        const void *item = items[i];
        double rank = l->rank(item, options);
        size_t j = i;
        for (; j > 0 && l->rank(items[j - 1], options) < rank; j--)
            items[j] = items[j - 1];
        items[j] = item;
    }
}

/* ---- Printing -------------------------------------------------------------------------------- */

static enum wf_status print(const struct wf_lister *l, const void *const *items, size_t count,
                            bool page, const struct wf_list_options *o, struct wf_text *out,
                            struct wf_error *e)
{
    char *text = NULL;
    struct wf_report_style style = {(enum wf_units)o->units.picked[0], wf_terminal_colour()};
    if (o->json)
        WF_TRY(wf_report_list_json(l->kind, items, count, &text, e));
    else if (page)
        WF_TRY(wf_report_item_text(l->kind, items[0], &style, &text, e));
    else if (count > 0)
        WF_TRY(wf_report_list_text(l->kind, items, count, &style, &text, e));
    else
        wf_text_add(out, "No %s are like that.\n", l->kind->plural);
    if (text)
        wf_text_append(out, text, strlen(text));
    wf_text_release(text);
    return WF_OK;
}

enum wf_status wf_lister_run(const struct wf_lister *l, const void **items, size_t count,
                             const struct wf_call *call, struct wf_text *out, struct wf_error *e)
{
    const char *name = call->operand_count > 0 ? call->operands[0] : NULL;
    for (size_t i = 0; name && i < count; i++)
        if (is_called(l, items[i], name))
            return print(l, &items[i], 1, true, call->options, out, e);
    size_t kept = name ? pick_parts(l, items, count, name) : count;
    if (name && kept == 0)
        return name_the_nearest(l, items, count, name, e);
    kept = pick_kept(l, items, kept, call->options);
    sort_by_rank(l, items, kept, call->options);
    return print(l, items, kept, false, call->options, out, e);
}

enum wf_status wf_lister_run_array(const struct wf_lister *l, const void *array, size_t count,
                                   size_t size, const struct wf_call *call, struct wf_text *out,
                                   struct wf_error *e)
{
    const void **items = wf_arena_alloc(call->arena, count, sizeof *items);
    if (!items)
        return wf_error_add(e, WF_MEMORY, "out of memory");
    for (size_t i = 0; i < count; i++)
        items[i] = (const char *)array + i * size;
    return wf_lister_run(l, items, count, call, out, e);
}
