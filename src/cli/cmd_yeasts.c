/* cmd_yeasts.c: wortfit yeasts [NAME]. */
#include "cli/lister.h"
#include "pantry/words.h"

#include <string.h>

struct yeasts_options {
    struct wf_list_options list;
    struct wf_choices family;
    const char *word;
    struct wf_range attenuation;
};

static const struct wf_option rows[] = {
    {.name = "family",
     .word = "LIST",
     .kind = WF_OPTION_CHOICES,
     .words = wf_family_words,
     .many = true,
     .offset = offsetof(struct yeasts_options, family),
     .text = "of these families: ale, lager, ale-phenolic, ..."},
    {.name = "word",
     .word = "WORD",
     .kind = WF_OPTION_TEXT,
     .offset = offsetof(struct yeasts_options, word),
     .text = "that taste of it: clove, neutral"},
    {.name = "attenuation",
     .word = "RANGE",
     .kind = WF_OPTION_RANGE,
     .dimension = WF_DIM_SHARE,
     .offset = offsetof(struct yeasts_options, attenuation),
     .text = "apparent: \">= 78 %\", \"70..75 %\""},
    WF_LIST_OPTIONS(struct yeasts_options),
    {.kind = WF_OPTION_END},
};

static bool is_of_family(const struct wf_yeast *y, const struct wf_choices *families)
{
    for (size_t i = 0; i < families->count; i++)
        if (strcmp(wf_family_words[families->picked[i]], y->family) == 0)
            return true;
    return families->count == 0;
}

static bool keep(const void *item, const void *options)
{
    const struct wf_yeast *y = item;
    const struct yeasts_options *o = options;
    struct wf_range attenuation = {y->attenuation_low, y->attenuation_high, y->attenuation_low};
    return is_of_family(y, &o->family) && (!o->word || wf_text_holds(y->descriptors, o->word)) &&
           wf_ranges_meet(attenuation, o->attenuation);
}

static enum wf_status run(const struct wf_call *call, struct wf_text *out, struct wf_error *e)
{
    static const struct wf_lister lister = {.kind = &wf_kind_yeast, .one = "yeast", .keep = keep};
    struct wf_catalogue *c = NULL;
    enum wf_status status = wf_catalogue_read(&c, e);
    if (status == WF_OK)
        status = wf_lister_run_array(&lister, c->yeasts, c->yeast_count, sizeof *c->yeasts, call,
                                     out, e);
    wf_catalogue_free(c);
    return status;
}

const struct wf_command wf_command_yeasts = {
    .name = "yeasts",
    .operands = "[NAME]",
    .most = 1,
    .summary = "list the kinds of yeast known, or show one",
    .about = "NAME is an id, for all its figures and their source, or a part of a name.\n",
    .example = "wortfit yeasts --family ale --attenuation \">= 76 %\"",
    .options = rows,
    .options_size = sizeof(struct yeasts_options),
    .run = run,
};
