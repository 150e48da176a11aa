/* cmd_malts.c: wortfit malts [NAME]. */
#include "cli/lister.h"
#include "pantry/words.h"

struct malts_options {
    struct wf_list_options list;
    struct wf_choices classes, word;
    struct wf_range colour;
};

static const char *const malt_words[] = {
#define WF_X(id, word, text) word,
    WF_MALT_WORDS(WF_X)
#undef WF_X
        NULL,
};

static const struct wf_option rows[] = {
    {.name = "class",
     .word = "LIST",
     .kind = WF_OPTION_CHOICES,
     .words = wf_class_words,
     .many = true,
     .offset = offsetof(struct malts_options, classes),
     .text = "of these classes: base, high-kilned, caramel, roast, ..."},
    {.name = "word",
     .word = "WORD",
     .kind = WF_OPTION_CHOICES,
     .words = malt_words,
     .offset = offsetof(struct malts_options, word),
     .text = "that taste of it, strongest first (see 'wortfit words')"},
    {.name = "colour",
     .also = "color",
     .word = "RANGE",
     .kind = WF_OPTION_RANGE,
     .dimension = WF_DIM_MALT_COLOUR,
     .offset = offsetof(struct malts_options, colour),
     .text = "of this colour: \"40..80 Lov\", \"<= 5 EBC\""},
    WF_LIST_OPTIONS(struct malts_options),
    {.kind = WF_OPTION_END},
};

static double strength(const void *item, const void *options)
{
    const struct wf_malt *m = item;
    const struct malts_options *o = options;
    return o->word.count > 0 ? m->character[o->word.picked[0]] : 0;
}

static bool keep(const void *item, const void *options)
{
    const struct wf_malt *m = item;
    const struct malts_options *o = options;
    return !wf_choice_excludes(&o->classes, (int)m->class) && m->grain.lovibond >= o->colour.low &&
           m->grain.lovibond <= o->colour.high &&
           (o->word.count == 0 || strength(item, options) > 0);
}

static enum wf_status run(const struct wf_call *call, struct wf_text *out, struct wf_error *e)
{
    static const struct wf_lister lister = {
        .kind = &wf_kind_malt, .one = "malt", .keep = keep, .rank = strength};
    struct wf_catalogue *c = NULL;
    enum wf_status status = wf_catalogue_read(&c, e);
    if (status == WF_OK)
        status =
            wf_lister_run_array(&lister, c->malts, c->malt_count, sizeof *c->malts, call, out, e);
    wf_catalogue_free(c);
    return status;
}

const struct wf_command wf_command_malts = {
    .name = "malts",
    .operands = "[NAME]",
    .most = 1,
    .summary = "list the malts, flakes and sugars known, or show one",
    .about = "NAME is an id, for all its figures and their source, or a part of a name.\n",
    .example = "wortfit malts --class caramel --colour \"30..80 Lov\"",
    .options = rows,
    .options_size = sizeof(struct malts_options),
    .run = run,
};
