/* cmd_beers.c: wortfit beers [NAME]: the built-in targets. */
#include "cli/beer_filter.h"
#include "cli/lister.h"

struct beers_options {
    struct wf_list_options list;
    struct wf_beer_filter filter;
};

static const struct wf_option rows[] = {
    WF_BEER_FILTER_OPTIONS(offsetof(struct beers_options, filter)),
    WF_LIST_OPTIONS(struct beers_options),
    {.kind = WF_OPTION_END},
};

static bool keep(const void *item, const void *options)
{
    const struct beers_options *o = options;
    return wf_beer_filter_keeps(&o->filter, item);
}

static const char *const *aliases(const void *item)
{
    const struct wf_target *t = item;
    return t->aliases;
}

static enum wf_status run(const struct wf_call *call, struct wf_text *out, struct wf_error *e)
{
    static const struct wf_lister lister = {
        .kind = &wf_kind_beer, .one = "beer", .keep = keep, .aliases = aliases};
    size_t most = wf_target_builtin_count(), count = 0;
    struct wf_target **beers = wf_arena_alloc(call->arena, most, sizeof *beers);
    const void **items = wf_arena_alloc(call->arena, most, sizeof *items);
    struct wf_catalogue *c = NULL;
    if (!beers || !items)
        return wf_error_add(e, WF_MEMORY, "out of memory");
    enum wf_status status = wf_catalogue_read(&c, e);
    if (status == WF_OK)
        status = wf_beers_read_all(c, beers, &count, e);
    for (size_t i = 0; i < count; i++)
        items[i] = beers[i];
    if (status == WF_OK)
        status = wf_lister_run(&lister, items, count, call, out, e);
    for (size_t i = 0; i < count; i++)
        wf_target_free(beers[i]);
    wf_catalogue_free(c);
    return status;
}

const struct wf_command wf_command_beers = {
    .name = "beers",
    .operands = "[NAME]",
    .most = 1,
    .summary = "list the built-in beers, or show what one asks for",
    .about = "NAME is an id or another name of a beer, or a part of a name.\n",
    .example = "wortfit beers --colour \"20..40 SRM\" --abv \"<= 5 %\"",
    .options = rows,
    .options_size = sizeof(struct beers_options),
    .run = run,
};
