/* cmd_stock.c: wortfit stock STORE: the lots of a store file, listed and changed in place. */
#include "cli/lister.h"        /* wf_unit_words, wf_text_holds */
#include "cli/recipe_inputs.h" /* wf_add_report */
#include "cli/stock_options.h"
#include "cli/terminal.h"
#include "cli/today.h"

#include "base/try.h"
#include "pantry/source_file.h"
#include "report/report_stock.h"

#include <string.h>

static const char *const kind_words[] = {
    [WF_KIND_MALT] = "malt", [WF_KIND_HOP] = "hop", [WF_KIND_YEAST] = "yeast", NULL};

#define AT(member) .offset = offsetof(struct wf_stock_options, member)

/* A row is a line or two. */
/* clang-format off */
static const struct wf_option rows[] = {
    {.name = "kind", .word = "LIST", .kind = WF_OPTION_CHOICES, AT(kinds), .words = kind_words,
     .many = true, .text = "malt, hop, yeast: of these kinds; or which a lot is"},
    {.name = "word", .word = "TEXT", .kind = WF_OPTION_TEXT, AT(word),
     .text = "list: whose id or name holds it"},
    {.name = "is", .word = "ID", .kind = WF_OPTION_TEXT, AT(is),
     .text = "add, set: the catalogue's entry that the lot is"},
    {.name = "have", .word = "AMOUNT", .kind = WF_OPTION_TEXT, AT(have),
     .text = "how much is there: \"4.5 kg\", \"3 oz\", 2 (packs of yeast)"},
    {.name = "price", .word = "PRICE", .kind = WF_OPTION_TEXT, AT(price),
     .text = "\"1.70/kg\", \"0.06/g\", 4.50 (a pack of yeast)"},
    {.name = "colour", .also = "color", .word = "COLOUR", .kind = WF_OPTION_TEXT, AT(colour),
     .text = "of a malt: \"58 Lov\", \"150 EBC\""},
    {.name = "alpha", .word = "SHARE", .kind = WF_OPTION_TEXT, AT(alpha),
     .text = "alpha acid of a hop, as packed: \"6.1 %\""},
    {.name = "packed", .word = "DATE", .kind = WF_OPTION_TEXT, AT(packed),
     .text = "day of packing: 2026-03-01"},
    {.name = "opened", .word = "DATE", .kind = WF_OPTION_TEXT, AT(opened),
     .text = "day of opening"},
    {.name = "field", .word = "KEY=VALUE", .kind = WF_OPTION_TEXTS, AT(fields),
     .text = "any key of a lot (may be repeated); KEY= takes it out"},
    {.name = "take", .word = "AMOUNT", .kind = WF_OPTION_TEXT, AT(take),
     .text = "use: how much of the lot goes"},
    {.name = "recipe", .word = "FILE", .kind = WF_OPTION_TEXT, AT(recipe),
     .text = "use, without ID: all that a recipe takes"},
    {.name = "on", .word = "DATE", .kind = WF_OPTION_DATE, AT(on),
     .text = "the day that ages are reckoned to (today)"},
    WF_ROW_UNITS(AT(units)),
    WF_ROW_JSON(AT(json), "for programs"),
    {.kind = WF_OPTION_END},
};
/* clang-format on */

/* ---- What is shown --------------------------------------------------------------------------- */

static enum wf_status show(const struct wf_call *call, const struct wf_stock_view *v,
                           struct wf_text *out, struct wf_error *e)
{
    const struct wf_stock_options *o = call->options;
    struct wf_report_style style = {(enum wf_units)o->units.picked[0], wf_terminal_colour()};
    char *text = NULL;
    WF_TRY(o->json ? wf_report_stock_json(v, &text, e) : wf_report_stock_text(v, &style, &text, e));
    wf_add_report(out, text);
    return WF_OK;
}

static struct wf_stock_view view_of(const struct wf_store *s, const struct wf_stock_options *o)
{
    return (struct wf_stock_view){.store = s, .today = o->on >= 0 ? o->on : wf_today()};
}

static bool passes(const struct wf_stock_options *o, enum wf_kind kind, const char *id,
                   const char *name)
{
    return !wf_choice_excludes(&o->kinds, (int)kind) &&
           (!o->word || wf_text_holds(id, o->word) || wf_text_holds(name, o->word));
}

static void pick(size_t *picked[WF_KIND_COUNT], struct wf_stock_view *v, enum wf_kind kind,
                 size_t index)
{
    picked[kind][v->count[kind]++] = index;
}

/* Room for `count` lots of each kind. */
static enum wf_status make_room(const struct wf_call *call, size_t count,
                                size_t *picked[WF_KIND_COUNT], struct wf_stock_view *v,
                                struct wf_error *e)
{
    for (int kind = 0; kind < WF_KIND_COUNT; kind++) {
        picked[kind] = wf_arena_alloc(call->arena, count, sizeof *picked[kind]);
        if (!picked[kind])
            return wf_error_add(e, WF_MEMORY, "out of memory");
        v->lots[kind] = picked[kind];
    }
    return WF_OK;
}

static enum wf_status list(const struct wf_call *call, const struct wf_catalogue *c,
                           struct wf_text *out, struct wf_error *e)
{
    const struct wf_stock_options *o = call->options;
    struct wf_store *s = NULL;
    size_t *picked[WF_KIND_COUNT];
    enum wf_status status;
    WF_TRY(wf_store_read(call->operands[0], c, &s, e));
    struct wf_stock_view v = view_of(s, o);
    WF_TRY_GOTO(make_room(call, WF_LOTS_MOST, picked, &v, e));
    for (size_t i = 0; i < s->malt_count; i++)
        if (passes(o, WF_KIND_MALT, s->malts[i].id, s->malts[i].name))
            pick(picked, &v, WF_KIND_MALT, i);
    for (size_t i = 0; i < s->hop_count; i++)
        if (passes(o, WF_KIND_HOP, s->hops[i].id, s->hops[i].name))
            pick(picked, &v, WF_KIND_HOP, i);
    for (size_t i = 0; i < s->yeast_count; i++)
        if (passes(o, WF_KIND_YEAST, s->yeasts[i].id, s->yeasts[i].name))
            pick(picked, &v, WF_KIND_YEAST, i);
    status = show(call, &v, out, e);
done:
    wf_store_free(s);
    return status;
}

/* ---- What is changed ------------------------------------------------------------------------- */

/* Changes the file, and shows the lots that were changed as they are now. */
static enum wf_status change(const struct wf_call *call, const struct wf_catalogue *c,
                             const struct wf_stock_change *changes, size_t count,
                             struct wf_text *out, struct wf_error *e)
{
    struct wf_stock_outcome *outcomes = wf_arena_alloc(call->arena, count, sizeof *outcomes);
    struct wf_store *after = NULL;
    size_t *picked[WF_KIND_COUNT];
    struct wf_stock_view v = view_of(NULL, call->options);
    if (!outcomes)
        return wf_error_add(e, WF_MEMORY, "out of memory");
    WF_TRY(make_room(call, count, picked, &v, e));
    WF_TRY(wf_stock_change_file(call->operands[0], c, changes, count, outcomes, &after, e));
    v.store = after;
    v.change = true;
    for (size_t i = 0; i < count; i++) {
        bool removed = changes[i].deed == WF_STOCK_REMOVE;
        if (outcomes[i].same)
            continue;
        ++*(removed ? &v.removed : outcomes[i].added ? &v.added : &v.changed);
        if (!removed)
            pick(picked, &v, outcomes[i].kind, outcomes[i].index);
    }
    enum wf_status status = show(call, &v, out, e);
    wf_store_free(after);
    return status;
}

static enum wf_status change_one(const struct wf_call *call, enum wf_stock_word word,
                                 const struct wf_catalogue *c, struct wf_text *out,
                                 struct wf_error *e)
{
    struct wf_stock_change asked;
    WF_TRY(wf_stock_change_asked(call, word, &asked, e));
    return change(call, c, &asked, 1, out, e);
}

static enum wf_status import(const struct wf_call *call, const struct wf_catalogue *c,
                             struct wf_text *out, struct wf_error *e)
{
    struct wf_source_file file;
    struct wf_stock_changes *s = NULL;
    WF_TRY(wf_source_file_open(call->operands[2], &file, e));
    enum wf_status status = wf_stock_read_csv(file.name, file.text, file.length, &s, e);
    wf_source_file_close(&file);
    if (status == WF_OK)
        status = change(call, c, s->changes, s->count, out, e);
    wf_stock_changes_free(s);
    return status;
}

static enum wf_status use_recipe(const struct wf_call *call, const struct wf_catalogue *c,
                                 struct wf_text *out, struct wf_error *e)
{
    const struct wf_stock_options *o = call->options;
    struct wf_store *s = NULL;
    struct wf_recipe *r = NULL;
    struct wf_stock_changes *taken = NULL;
    enum wf_status status;
    WF_TRY(wf_store_read(call->operands[0], c, &s, e));
    WF_TRY_GOTO(wf_recipe_read(o->recipe, s, c, &r, e));
    WF_TRY_GOTO(wf_stock_use_recipe(r, &taken, e));
    WF_TRY_GOTO(change(call, c, taken->changes, taken->count, out, e));
done:
    wf_stock_changes_free(taken);
    wf_recipe_free(r);
    wf_store_free(s);
    return status;
}

static enum wf_status run(const struct wf_call *call, struct wf_text *out, struct wf_error *e)
{
    const struct wf_stock_options *o = call->options;
    enum wf_stock_word word;
    struct wf_catalogue *c = NULL;
    WF_TRY(wf_stock_word(call, &word, e));
    enum wf_status status = wf_catalogue_read(&c, e);
    if (status != WF_OK)
        return status;
    if (word == WF_STOCK_WORD_LIST)
        status = list(call, c, out, e);
    else if (word == WF_STOCK_WORD_IMPORT)
        status = import(call, c, out, e);
    else if (o->recipe)
        status = use_recipe(call, c, out, e);
    else
        status = change_one(call, word, c, out, e);
    wf_catalogue_free(c);
    return status;
}

const struct wf_command wf_command_stock = {
    .name = "stock",
    .operands = "STORE [add|set|use|remove ID | import FILE]",
    .least = 1,
    .most = 3,
    .summary = "list the lots of a store file, or change them in place",
    .about = "The file keeps its comments, its order and its layout, and is replaced whole or\n"
             "not at all. FILE is a CSV table whose first line names the keys of a lot, as in\n"
             "id,have,price: lots that are there are set, the others added.\n",
    .example = "wortfit stock cellar.json --kind hop\n"
               "wortfit stock cellar.json use cascade --take \"30 g\"",
    .options = rows,
    .options_size = sizeof(struct wf_stock_options),
    .run = run,
};
