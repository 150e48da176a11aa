/* cmd_hops.c: wortfit hops [NAME]: the varieties known; wortfit hops RECIPE: a recipe's hops made
 * right for its bitterness. */
#include "cli/hops_refit.h"

#include "base/try.h"

#include <string.h>

enum purpose { BITTERING, AROMA };
static const char *const purpose_words[] = {[BITTERING] = "bittering", [AROMA] = "aroma", NULL};
static const char *const hop_words[] = {
#define WF_X(id, word, text) word,
    WF_HOP_WORDS(WF_X)
#undef WF_X
        NULL,
};
static const char *const change_words[] = {
    [WF_HOPS_CHANGE_EARLY] = "early", [WF_HOPS_CHANGE_ALL] = "all", NULL};

#define AT(member) .offset = offsetof(struct wf_hops_options, member)

/* A row is two or three lines. */
/* clang-format off */
static const struct wf_option rows[] = {
    {.name = "ratio", .word = "RANGE", .kind = WF_OPTION_RANGE, AT(ratio),
     .dimension = WF_DIM_NUMBER, .tolerance = WF_TOLERANCE_RATIO,
     .text = "recipe: IBU by gravity point: 0.7 (its own bitterness)"},
    {.name = "bitterness", .word = "RANGE", .kind = WF_OPTION_RANGE, AT(bitterness),
     .dimension = WF_DIM_BITTERNESS, .tolerance = WF_REFIT_TOLERANCE,
     .text = "recipe: instead of the ratio: \"35 IBU\""},
    {.name = "alpha", .word = "TEXT", .kind = WF_OPTION_TEXTS, AT(alphas),
     .text = "recipe: as on the bag, cascade=5.2%; list: \">= 10 %\""},
    {.name = "change", .word = "WORD", .kind = WF_OPTION_CHOICES, AT(change),
     .words = change_words, .preset = "early",
     .text = "recipe: early or all additions may change"},
    {.name = "schedule", .word = "LIST", .kind = WF_OPTION_TEXT, AT(schedule),
     .text = "recipe: \"60|45 min, 10 min cascade 20 g, dry 4 days keep\""},
    {.name = "store", .word = "FILE", .kind = WF_OPTION_TEXT, AT(store),
     .text = "recipe: lots, their alpha acid, stock and prices"},
    {.name = "brewhouse", .word = "FILE", .kind = WF_OPTION_TEXT, AT(brewhouse),
     .text = "recipe: brew it there (its own system; 20 L, 75 %)"},
    {.name = "on", .word = "DATE", .kind = WF_OPTION_DATE, AT(on),
     .text = "recipe: brewing day, for the age of hops (today)"},
    {.name = "origin", .word = "COUNTRY", .kind = WF_OPTION_TEXT, AT(origin),
     .text = "list: from there: USA, Germany, ..."},
    {.name = "word", .word = "WORD", .kind = WF_OPTION_CHOICES, AT(word), .words = hop_words,
     .text = "list: smell of it, strongest first (see 'wortfit words')"},
    {.name = "for", .word = "PURPOSE", .kind = WF_OPTION_CHOICES, AT(purpose),
     .words = purpose_words, .text = "list: bittering or aroma"},
    WF_LIST_OPTIONS(struct wf_hops_options),
    {.kind = WF_OPTION_END},
};
/* clang-format on */

/* ---- The list -------------------------------------------------------------------------------- */

static double strength(const void *item, const void *options)
{
    const struct wf_hop *h = item;
    const struct wf_hops_options *o = options;
    return o->word.count > 0 ? h->character[o->word.picked[0]] : 0;
}

static bool keep(const void *item, const void *options)
{
    const struct wf_hop *h = item;
    const struct wf_hops_options *o = options;
    struct wf_range alpha = {h->alpha_low, h->alpha_high, h->alpha};
    bool fits = o->purpose.count == 0 || (o->purpose.picked[0] == AROMA ? h->aroma : h->bittering);
    return fits && (!o->origin || wf_text_holds(h->origin, o->origin)) &&
           (wf_range_is_any(o->usual_alpha) || wf_ranges_meet(alpha, o->usual_alpha)) &&
           (o->word.count == 0 || strength(item, options) > 0);
}

static bool asks_of_a_recipe(const struct wf_hops_options *o)
{
    return o->store || o->brewhouse || o->schedule || o->on >= 0 || !wf_range_is_any(o->ratio) ||
           !wf_range_is_any(o->bitterness) || o->change.picked[0] != WF_HOPS_CHANGE_EARLY;
}

static enum wf_status check_list(struct wf_hops_options *o, struct wf_error *e)
{
    char why[WF_REASON_MAX];
    o->usual_alpha = wf_range_any();
    if (asks_of_a_recipe(o))
        return wf_error_add(e, WF_USAGE,
                            "hops of which recipe? give its file first, as in 'wortfit hops "
                            "examples/last-autumn-amber.json --ratio 0.7'");
    if (!o->alphas)
        return WF_OK;
    if (o->alphas[1])
        return wf_error_add(e, WF_USAGE, "option --alpha: give it once for the list of hops");
    if (!wf_range_parse(WF_DIM_SHARE, o->alphas[0], 0, &o->usual_alpha, why))
        return wf_error_add(e, WF_USAGE, "option --alpha: '%s' %s", o->alphas[0], why);
    return WF_OK;
}

static enum wf_status list(const struct wf_call *call, struct wf_text *out, struct wf_error *e)
{
    static const struct wf_lister lister = {
        .kind = &wf_kind_hop, .one = "hop", .keep = keep, .rank = strength};
    struct wf_catalogue *c = NULL;
    WF_TRY(check_list(call->options, e));
    enum wf_status status = wf_catalogue_read(&c, e);
    if (status == WF_OK)
        status = wf_lister_run_array(&lister, c->hops, c->hop_count, sizeof *c->hops, call, out, e);
    wf_catalogue_free(c);
    return status;
}

/* ---- Either ---------------------------------------------------------------------------------- */

/* As for targets: a name with a '/', or that ends in ".json", is a file; and - is stdin. */
static bool is_recipe(const char *operand)
{
    static const char json[] = ".json";
    size_t length = strlen(operand), ending = sizeof json - 1;
    return strcmp(operand, "-") == 0 || strchr(operand, '/') != NULL ||
           (length > ending && strcmp(operand + length - ending, json) == 0);
}

static enum wf_status run(const struct wf_call *call, struct wf_text *out, struct wf_error *e)
{
    bool recipe = call->operand_count > 0 && is_recipe(call->operands[0]);
    return (recipe ? wf_hops_refit : list)(call, out, e);
}

const struct wf_command wf_command_hops = {
    .name = "hops",
    .operands = "[RECIPE|NAME]",
    .most = 1,
    .summary = "refit the hops of a recipe; or list the varieties known",
    .about = "RECIPE is a file (.json; - is stdin): its grist stays, its hops are made right\n"
             "for its bitterness, with as few additions changed, and by as little, as can be.\n"
             "NAME is an id, for all its figures and their source, or a part of a name.\n",
    .example = "wortfit hops examples/last-autumn-amber.json --alpha magnum=11.8%",
    .options = rows,
    .options_size = sizeof(struct wf_hops_options),
    .run = run,
};
