/* stock_options.c: see stock_options.h. */
#include "cli/stock_options.h"

#include "base/suggest.h"
#include "base/try.h"

#include <string.h>

/* ---- Words ----------------------------------------------------------------------------------- */

static const struct {
    const char *name, *operand; /* what stands behind it; "" nothing */
} word_row[WF_STOCK_WORD_COUNT] = {
    [WF_STOCK_WORD_LIST] = {"list", ""},       [WF_STOCK_WORD_ADD] = {"add", "ID"},
    [WF_STOCK_WORD_SET] = {"set", "ID"},       [WF_STOCK_WORD_USE] = {"use", "ID"},
    [WF_STOCK_WORD_REMOVE] = {"remove", "ID"}, [WF_STOCK_WORD_IMPORT] = {"import", "FILE"},
};

static enum wf_status find_word(const char *text, enum wf_stock_word *out, struct wf_error *e)
{
    const char *names[WF_STOCK_WORD_COUNT];
    for (int i = 0; i < WF_STOCK_WORD_COUNT; i++) {
        names[i] = word_row[i].name;
        *out = (enum wf_stock_word)i;
        if (strcmp(names[i], text) == 0)
            return WF_OK;
    }
    int near = wf_suggest(text, names, WF_STOCK_WORD_COUNT);
    if (near >= 0)
        return wf_error_add(e, WF_USAGE, "stock cannot '%s', did you mean '%s'?", text,
                            names[near]);
    return wf_error_add(e, WF_USAGE,
                        "stock cannot '%s'; behind STORE stands list, add, set, use, remove or "
                        "import",
                        text);
}

/* ---- Which options go with which word -------------------------------------------------------- */

#define BIT(word) (1u << WF_STOCK_WORD_##word)

#define AT(member) offsetof(struct wf_stock_options, member)

/* Options that are a text. `key`: what they say of a lot. */
static const struct {
    const char *name, *key;
    size_t offset;
    unsigned words;
    const char *where; /* for the message */
} text_row[] = {
    {"word", NULL, AT(word), BIT(LIST), "a list"},
    {"is", "is", AT(is), BIT(ADD) | BIT(SET), "add and set"},
    {"have", "have", AT(have), BIT(ADD) | BIT(SET), "add and set"},
    {"price", "price", AT(price), BIT(ADD) | BIT(SET), "add and set"},
    {"colour", "colour", AT(colour), BIT(ADD) | BIT(SET), "add and set"},
    {"alpha", "alpha", AT(alpha), BIT(ADD) | BIT(SET), "add and set"},
    {"packed", "packed", AT(packed), BIT(ADD) | BIT(SET), "add and set"},
    {"opened", "opened", AT(opened), BIT(ADD) | BIT(SET), "add and set"},
    {"take", NULL, AT(take), BIT(USE), "use"},
    {"recipe", NULL, AT(recipe), BIT(USE), "use"},
};

static const char *text_at(const struct wf_stock_options *o, size_t i)
{
    const void *at = (const char *)o + text_row[i].offset;
    return *(const char *const *)at;
}

static void check_options(const struct wf_stock_options *o, enum wf_stock_word word,
                          struct wf_error *e)
{
    for (size_t i = 0; i < WF_COUNT_OF(text_row); i++)
        if (text_at(o, i) && !(text_row[i].words & 1u << word))
            wf_error_add(e, WF_USAGE, "option --%s is for %s, not for %s", text_row[i].name,
                         text_row[i].where, word_row[word].name);
    if (o->fields && word != WF_STOCK_WORD_ADD && word != WF_STOCK_WORD_SET)
        wf_error_add(e, WF_USAGE, "option --field is for add and set, not for %s",
                     word_row[word].name);
    if (o->kinds.count > 1 && word != WF_STOCK_WORD_LIST)
        wf_error_add(e, WF_USAGE, "option --kind: a lot is of one kind");
    if (o->kinds.count > 0 && (word == WF_STOCK_WORD_IMPORT || o->recipe))
        wf_error_add(e, WF_USAGE, "option --kind is for one lot; a table has a column for it");
}

/* A use is of one lot and an amount, or of a recipe. */
static void check_use(const struct wf_call *call, struct wf_error *e)
{
    const struct wf_stock_options *o = call->options;
    bool id = call->operand_count > 2;
    if (o->recipe && (id || o->take))
        wf_error_add(e, WF_USAGE, "use a lot or a recipe: give an ID and --take, or --recipe");
    else if (!o->recipe && !id)
        wf_error_add(e, WF_USAGE, "use what? give an ID and --take, or --recipe");
    else if (!o->recipe && !o->take)
        wf_error_add(e, WF_USAGE, "use how much of '%s'? give --take", call->operands[2]);
}

static void check_operands(const struct wf_call *call, enum wf_stock_word word, struct wf_error *e)
{
    bool wants = *word_row[word].operand != '\0', has = call->operand_count > 2;
    if (word == WF_STOCK_WORD_USE)
        check_use(call, e);
    else if (wants && !has)
        wf_error_add(e, WF_USAGE, "%s needs its %s: wortfit stock STORE %s %s", word_row[word].name,
                     word_row[word].operand, word_row[word].name, word_row[word].operand);
    else if (!wants && has)
        wf_error_add(e, WF_USAGE, "one word too many: '%s'", call->operands[2]);
}

static bool says_something(const struct wf_stock_options *o)
{
    for (size_t i = 0; i < WF_COUNT_OF(text_row); i++)
        if (text_row[i].key && text_at(o, i))
            return true;
    return o->fields != NULL;
}

enum wf_status wf_stock_word(const struct wf_call *call, enum wf_stock_word *out,
                             struct wf_error *e)
{
    const struct wf_stock_options *o = call->options;
    *out = WF_STOCK_WORD_LIST;
    if (call->operand_count > 1)
        WF_TRY(find_word(call->operands[1], out, e));
    check_operands(call, *out, e);
    check_options(o, *out, e);
    if (*out == WF_STOCK_WORD_SET && !says_something(o))
        wf_error_add(e, WF_USAGE, "set what? give --have, --price and the like, or --field");
    return e->count > 0 ? e->status : WF_OK;
}

/* ---- One change ------------------------------------------------------------------------------ */

/* "KEY=VALUE" */
static enum wf_status split_field(struct wf_arena *arena, const char *given,
                                  struct wf_stock_field *out, struct wf_error *e)
{
    const char *equals = strchr(given, '=');
    if (!equals || equals == given)
        return wf_error_add(e, WF_USAGE, "option --field: '%s' is not KEY=VALUE", given);
    out->key = wf_arena_copy(arena, given, (size_t)(equals - given));
    out->text = equals + 1;
    out->place = out->key ? wf_arena_print(arena, "option --field: %s", out->key) : NULL;
    return out->place ? WF_OK : wf_error_add(e, WF_MEMORY, "out of memory");
}

static enum wf_status take_fields(const struct wf_call *call, struct wf_stock_change *out,
                                  struct wf_error *e)
{
    const struct wf_stock_options *o = call->options;
    size_t most = WF_COUNT_OF(text_row);
    for (const char *const *f = o->fields; f && *f; f++)
        most++;
    struct wf_stock_field *fields = wf_arena_alloc(call->arena, most, sizeof *fields);
    if (!fields)
        return wf_error_add(e, WF_MEMORY, "out of memory");
    out->fields = fields;
    for (size_t i = 0; i < WF_COUNT_OF(text_row); i++) {
        if (!text_row[i].key || !text_at(o, i))
            continue;
        const char *place = wf_arena_print(call->arena, "option --%s", text_row[i].name);
        if (!place)
            return wf_error_add(e, WF_MEMORY, "out of memory");
        fields[out->field_count++] = (struct wf_stock_field){text_row[i].key, text_at(o, i), place};
    }
    for (const char *const *f = o->fields; f && *f; f++)
        WF_TRY(split_field(call->arena, *f, &fields[out->field_count++], e));
    return WF_OK;
}

enum wf_status wf_stock_change_asked(const struct wf_call *call, enum wf_stock_word word,
                                     struct wf_stock_change *out, struct wf_error *e)
{
    static const enum wf_stock_deed deeds[WF_STOCK_WORD_COUNT] = {
        [WF_STOCK_WORD_ADD] = WF_STOCK_ADD,
        [WF_STOCK_WORD_SET] = WF_STOCK_SET,
        [WF_STOCK_WORD_USE] = WF_STOCK_USE,
        [WF_STOCK_WORD_REMOVE] = WF_STOCK_REMOVE,
    };
    const struct wf_stock_options *o = call->options;
    *out = (struct wf_stock_change){
        .deed = deeds[word],
        .kind = o->kinds.count > 0 ? (enum wf_kind)o->kinds.picked[0] : WF_KIND_COUNT,
        .id = call->operands[2],
        .take = o->take,
        .take_place = "option --take",
    };
    return take_fields(call, out, e);
}
