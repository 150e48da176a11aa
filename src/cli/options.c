/* options.c: see options.h. */
#include "cli/options.h"

#include "base/suggest.h"
#include "base/try.h"
#include "cli/command.h"
#include "cli/option_values.h"

#include <string.h>

#define ROWS_MOST 32

/* What was collected for one row. */
struct given {
    const char **values; /* room for one a word of the command line */
    size_t count;
};

struct parse {
    const struct wf_command *command;
    int argc;
    char **argv;
    struct given given[ROWS_MOST];
    const char **operands;
    size_t operand_count;
    bool unknown; /* an option: the next word may be its value, or an operand */
    struct wf_error *e;
};

static size_t count_rows(const struct wf_option *rows)
{
    size_t n = 0;
    while (rows[n].kind != WF_OPTION_END)
        n++;
    return n;
}

static bool is_name(const char *name, const char *word, size_t length)
{
    return name && strlen(name) == length && memcmp(name, word, length) == 0;
}

/* ---- Collect --------------------------------------------------------------------------------- */

static void unknown_option(struct parse *p, const char *word, size_t length)
{
    const char *names[ROWS_MOST];
    char name[64];
    size_t n = count_rows(p->command->options);
    for (size_t i = 0; i < n; i++)
        names[i] = p->command->options[i].name;
    if (length >= sizeof name)
        length = sizeof name - 1;
    memcpy(name, word, length);
    name[length] = '\0';
    int near = wf_suggest(name, names, n);
    if (near >= 0)
        wf_error_add(p->e, WF_USAGE, "unknown option '--%s', did you mean '--%s'?", name,
                     names[near]);
    else
        wf_error_add(p->e, WF_USAGE, "unknown option '--%s', see 'wortfit help %s'", name,
                     p->command->name);
}

static const struct wf_option *find_row(const struct wf_command *c, const char *word, size_t length)
{
    for (const struct wf_option *row = c->options; row->kind != WF_OPTION_END; row++)
        if (is_name(row->name, word, length) || is_name(row->also, word, length))
            return row;
    return NULL;
}

/* The option's argument: after its '=', or the next word, which *i then passes. */
static const char *take_value(struct parse *p, const struct wf_option *row, const char *equals,
                              int *i)
{
    const char *value = equals ? equals + 1 : NULL;
    if (!equals && *i + 1 < p->argc && strncmp(p->argv[*i + 1], "--", 2) != 0)
        value = p->argv[++*i];
    if (!value || !*value) {
        wf_error_add(p->e, WF_USAGE, "option --%s needs its %s", row->name, row->word);
        return NULL;
    }
    return value;
}

static void collect_option(struct parse *p, int *i)
{
    const char *word = p->argv[*i] + 2, *equals = strchr(word, '=');
    size_t length = equals ? (size_t)(equals - word) : strlen(word);
    const struct wf_option *row = find_row(p->command, word, length);
    if (!row) {
        unknown_option(p, word, length);
        p->unknown = true;
        return;
    }
    struct given *given = &p->given[row - p->command->options];
    bool flag = row->kind == WF_OPTION_FLAG;
    if (flag && equals) {
        wf_error_add(p->e, WF_USAGE, "option --%s takes no value, but '%s' was given", row->name,
                     equals + 1);
        return;
    }
    const char *value = flag ? row->name : take_value(p, row, equals, i);
    if (!value)
        return;
    if (given->count > 0 && row->kind != WF_OPTION_TEXTS) {
        if (!flag)
            wf_error_add(p->e, WF_USAGE, "option --%s is given twice", row->name);
        return;
    }
    given->values[given->count++] = value;
}

/* Looks every word up. True: help was asked for, nothing else matters. */
static bool collect(struct parse *p)
{
    bool options_end = false;
    for (int i = 0; i < p->argc; i++) {
        const char *word = p->argv[i];
        if (options_end || word[0] != '-' || word[1] == '\0')
            p->operands[p->operand_count++] = word;
        else if (strcmp(word, "--help") == 0 || strcmp(word, "-h") == 0)
            return true;
        else if (strcmp(word, "--") == 0)
            options_end = true;
        else if (word[1] == '-')
            collect_option(p, &i);
        else
            wf_error_add(p->e, WF_USAGE, "unknown option '%s': options begin with two dashes",
                         word);
    }
    return false;
}

/* ---- Convert --------------------------------------------------------------------------------- */

static void check_operands(const struct parse *p)
{
    const struct wf_command *c = p->command;
    if (p->operand_count < c->least)
        wf_error_add(p->e, WF_USAGE, "needs its %s: wortfit %s %s", c->operands, c->name,
                     c->operands);
    else if (p->operand_count > c->most && !p->unknown)
        wf_error_add(p->e, WF_USAGE, "one word too many: '%s'", p->operands[c->most]);
}

static enum wf_status make_room(struct parse *p, struct wf_call *call)
{
    size_t words = (size_t)p->argc + 1, rows = count_rows(p->command->options);
    call->options = wf_arena_alloc(call->arena, 1, p->command->options_size);
    p->operands = wf_arena_alloc(call->arena, words, sizeof *p->operands);
    bool ok = call->options && p->operands;
    for (size_t i = 0; ok && i < rows; i++) {
        p->given[i].values = wf_arena_alloc(call->arena, words, sizeof *p->given[i].values);
        ok = p->given[i].values;
    }
    return ok ? WF_OK : wf_error_add(p->e, WF_MEMORY, "out of memory");
}

enum wf_status wf_options_parse(const struct wf_command *command, int argc, char **argv,
                                struct wf_call *call, struct wf_error *e)
{
    struct parse p = {.command = command, .argc = argc, .argv = argv, .e = e};
    *call = (struct wf_call){.command = command, .arena = wf_arena_new()};
    if (!call->arena)
        return wf_error_add(e, WF_MEMORY, "out of memory");
    WF_TRY(make_room(&p, call));
    call->help = collect(&p);
    if (call->help)
        return WF_OK;
    check_operands(&p);
    call->operands = p.operands;
    call->operand_count = p.operand_count;
    size_t rows = count_rows(command->options);
    for (size_t i = 0; i < rows; i++) {
        const struct wf_option *row = &command->options[i];
        enum wf_status s = wf_option_convert(row, p.given[i].values, p.given[i].count,
                                             (char *)call->options + row->offset, call->arena, e);
        if (s == WF_MEMORY)
            return s;
    }
    return e->count > 0 ? e->status : WF_OK;
}
