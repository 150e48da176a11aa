/* cmd_beers.c: wortfit beers [NAME]: the built-in targets. */
#include "cli/lister.h"

#include <string.h>

struct beers_options {
    struct wf_list_options list;
    const char *word;
    struct wf_range og, colour, abv;
};

static const struct wf_option rows[] = {
    {.name = "word",
     .word = "TEXT",
     .kind = WF_OPTION_TEXT,
     .offset = offsetof(struct beers_options, word),
     .text = "that are described so: roast, wheat, strong, ..."},
    {.name = "og",
     .word = "RANGE",
     .kind = WF_OPTION_RANGE,
     .dimension = WF_DIM_GRAVITY,
     .offset = offsetof(struct beers_options, og),
     .text = "original gravity: 1.055, \"<= 1.045\""},
    {.name = "colour",
     .also = "color",
     .word = "RANGE",
     .kind = WF_OPTION_RANGE,
     .dimension = WF_DIM_BEER_COLOUR,
     .offset = offsetof(struct beers_options, colour),
     .text = "colour: \"10..20 SRM\", \"<= 8 EBC\""},
    {.name = "abv",
     .word = "RANGE",
     .kind = WF_OPTION_RANGE,
     .dimension = WF_DIM_SHARE,
     .offset = offsetof(struct beers_options, abv),
     .text = "alcohol by volume: \"<= 4 %\""},
    WF_LIST_OPTIONS(struct beers_options),
    {.kind = WF_OPTION_END},
};

/* What the guideline gives, or else the target; a beer without either might be anything. */
static struct wf_range usual(struct wf_range guideline, struct wf_range wanted)
{
    return wf_range_is_any(guideline) ? wanted : guideline;
}

static bool wishes_hold(const struct wf_word_wish *wishes, size_t count, const char *word)
{
    for (size_t i = 0; i < count; i++)
        if (wishes[i].index.low > 0 && strcmp(wf_word_name(wishes[i].word), word) == 0)
            return true;
    return false;
}

static bool is_described_so(const struct wf_target *t, const char *word)
{
    const char *const texts[] = {t->id, t->name, t->group, t->about, t->note};
    for (size_t i = 0; i < sizeof texts / sizeof texts[0]; i++)
        if (wf_text_holds(texts[i], word))
            return true;
    for (size_t i = 0; i < t->slot_count; i++)
        if (wishes_hold(t->slots[i].wishes, t->slots[i].wish_count, word))
            return true;
    return wishes_hold(t->wishes, t->wish_count, word);
}

static bool keep(const void *item, const void *options)
{
    const struct wf_target *t = item;
    const struct beers_options *o = options;
    return wf_ranges_meet(usual(t->guideline.og, t->og), o->og) &&
           wf_ranges_meet(usual(t->guideline.colour, t->colour), o->colour) &&
           wf_ranges_meet(usual(t->guideline.abv, t->abv), o->abv) &&
           (!o->word || is_described_so(t, o->word));
}

static const char *const *aliases(const void *item)
{
    const struct wf_target *t = item;
    return t->aliases;
}

/* All built-in targets into beers[]; *count says how many must be freed in any case. */
static enum wf_status read_all(const struct wf_catalogue *c, struct wf_target **beers,
                               size_t *count, struct wf_error *e)
{
    for (*count = 0; *count < wf_target_builtin_count(); ++*count) {
        enum wf_status status = wf_target_builtin(*count, c, &beers[*count], e);
        if (status != WF_OK)
            return status;
    }
    return WF_OK;
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
        status = read_all(c, beers, &count, e);
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
