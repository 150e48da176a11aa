/* cmd_hops.c: wortfit hops [NAME]. */
#include "cli/lister.h"

struct hops_options {
    struct wf_list_options list;
    const char *origin;
    struct wf_choices word, purpose;
    struct wf_range alpha;
};

enum purpose { BITTERING, AROMA };
static const char *const purpose_words[] = {[BITTERING] = "bittering", [AROMA] = "aroma", NULL};
static const char *const hop_words[] = {
#define WF_X(id, word, text) word,
    WF_HOP_WORDS(WF_X)
#undef WF_X
        NULL,
};

static const struct wf_option rows[] = {
    {.name = "origin",
     .word = "COUNTRY",
     .kind = WF_OPTION_TEXT,
     .offset = offsetof(struct hops_options, origin),
     .text = "from there: USA, Germany, ..."},
    {.name = "word",
     .word = "WORD",
     .kind = WF_OPTION_CHOICES,
     .words = hop_words,
     .offset = offsetof(struct hops_options, word),
     .text = "that smell of it, strongest first (see 'wortfit words')"},
    {.name = "for",
     .word = "PURPOSE",
     .kind = WF_OPTION_CHOICES,
     .words = purpose_words,
     .offset = offsetof(struct hops_options, purpose),
     .text = "bittering or aroma"},
    {.name = "alpha",
     .word = "RANGE",
     .kind = WF_OPTION_RANGE,
     .dimension = WF_DIM_SHARE,
     .offset = offsetof(struct hops_options, alpha),
     .text = "usual alpha acid: \">= 10 %\", \"4..6 %\""},
    WF_LIST_OPTIONS(struct hops_options),
    {.kind = WF_OPTION_END},
};

static double strength(const void *item, const void *options)
{
    const struct wf_hop *h = item;
    const struct hops_options *o = options;
    return o->word.count > 0 ? h->character[o->word.picked[0]] : 0;
}

static bool keep(const void *item, const void *options)
{
    const struct wf_hop *h = item;
    const struct hops_options *o = options;
    struct wf_range alpha = {h->alpha_low, h->alpha_high, h->alpha};
    bool fits = o->purpose.count == 0 || (o->purpose.picked[0] == AROMA ? h->aroma : h->bittering);
    return fits && (!o->origin || wf_text_holds(h->origin, o->origin)) &&
           (wf_range_is_any(o->alpha) || wf_ranges_meet(alpha, o->alpha)) &&
           (o->word.count == 0 || strength(item, options) > 0);
}

static enum wf_status run(const struct wf_call *call, struct wf_text *out, struct wf_error *e)
{
    static const struct wf_lister lister = {
        .kind = &wf_kind_hop, .one = "hop", .keep = keep, .rank = strength};
    struct wf_catalogue *c = NULL;
    enum wf_status status = wf_catalogue_read(&c, e);
    if (status == WF_OK)
        status = wf_lister_run_array(&lister, c->hops, c->hop_count, sizeof *c->hops, call, out, e);
    wf_catalogue_free(c);
    return status;
}

const struct wf_command wf_command_hops = {
    .name = "hops",
    .operands = "[NAME]",
    .most = 1,
    .summary = "list the hop varieties known, or show one",
    .about = "NAME is an id, for all its figures and their source, or a part of a name.\n",
    .example = "wortfit hops --word citrus --for aroma",
    .options = rows,
    .options_size = sizeof(struct hops_options),
    .run = run,
};
