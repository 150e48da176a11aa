/* takes.c: what completes an option's argument or an operand, found from the tables. */
#include "pages/pages.h"

#include "base/number.h"

#include <string.h>

/* The first row that fits counts; NULL fits all. `word` is what the argument is called. */
static const struct {
    const char *command, *option, *word, *takes;
} rows[] = {
    {NULL, "store", NULL, "store"},
    {NULL, "yeast", NULL, "any yeast family lot"},
    {NULL, "use", "ID", "any malt hop lot"},
    {NULL, "avoid", "ID", "any malt hop lot"},
    {NULL, NULL, "ID", "any malt hop yeast lot"},
    {"malts", NULL, "NAME", "any malt"},
    {"hops", NULL, "NAME", "any hop"},
    {"yeasts", NULL, "NAME", "any yeast"},
    {"hops", NULL, "RECIPE|NAME", "any hop file"},
    {NULL, NULL, "NAME", "any beer"},
    {NULL, NULL, "TARGET", "any beer file"},
    {NULL, NULL, "BEER", "any beer file"},
    {NULL, NULL, "COMMAND", "command"},
    {NULL, NULL, "STORE", "store"},
    {NULL, NULL, "FILE", "file"},
    {NULL, NULL, "RECIPE", "file"},
    {NULL, NULL, "LOG", "file"},
    {NULL, NULL, "FOLDER", "file"},
};

static bool fits(const char *wanted, const char *got)
{
    return !wanted || (got && strcmp(wanted, got) == 0);
}

static const char *find(const char *command, const char *option, const char *word,
                        const char *otherwise)
{
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++)
        if (fits(rows[i].command, command) && fits(rows[i].option, option) &&
            fits(rows[i].word, word))
            return rows[i].takes;
    return otherwise;
}

void wf_takes_option(struct wf_text *out, const struct wf_command *c, const struct wf_option *row)
{
    if (row->kind == WF_OPTION_FLAG) {
        wf_text_add(out, "flag");
    } else if (row->words) {
        wf_text_add(out, row->many ? "list" : "word");
        for (const char *const *w = row->words; *w; w++)
            wf_text_add(out, " %s", *w);
    } else if (row->without_end) {
        wf_text_add(out, "word %s", row->without_end);
    } else {
        wf_text_add(out, "%s", find(c->name, row->name, row->word, "text"));
    }
}

/* ---- Operands -------------------------------------------------------------------------------- */

/* Reads "STORE [add|set ID | import FILE]": capitals are arguments, small letters words. */
struct reading {
    const struct wf_command *command;
    struct wf_takes_operand *out;
    size_t count;
    int place, start;     /* 1 for the first operand; where the bracket began */
    char words[64];       /* that stand before it in its bracket: "add|set"; or "" */
    const char *argument; /* the last one, for "..." */
};

/* Adds to what the row of that key says already. */
static void put(struct reading *r, const char *key, const char *what)
{
    size_t i = 0;
    while (i < r->count && strcmp(r->out[i].key, key) != 0)
        i++;
    if (i == WF_TAKES_MOST)
        return;
    struct wf_takes_operand *o = &r->out[i];
    if (i == r->count) {
        r->count++;
        wf_snprintf(o->key, sizeof o->key, "%s", key);
        wf_snprintf(o->what, sizeof o->what, "%s", what);
        return;
    }
    const char *rest = strchr(what, ' '); /* "word import" after "word add": only the words */
    size_t used = strlen(o->what);
    wf_snprintf(o->what + used, sizeof o->what - used, "%s", rest ? rest : "");
}

/* The next of words that are parted by bars, into word; NULL after the last. */
static const char *next_word(const char *words, char *word, size_t size)
{
    size_t length = strcspn(words, "|");
    if (length == 0)
        return NULL;
    wf_snprintf(word, size, "%.*s", (int)length, words);
    return words + length + (words[length] == '|');
}

static void put_words(struct reading *r, const char *words)
{
    char key[64], word[64], what[80];
    wf_snprintf(key, sizeof key, "%d", r->place);
    wf_snprintf(r->words, sizeof r->words, "%s", words);
    while ((words = next_word(words, word, sizeof word))) {
        wf_snprintf(what, sizeof what, "word %s", word);
        put(r, key, what);
    }
}

static void put_argument(struct reading *r, const char *name)
{
    char key[64], word[64];
    const char *what = find(r->command->name, NULL, name, "file"), *words = r->words;
    r->argument = what;
    if (!*words) {
        wf_snprintf(key, sizeof key, "%d", r->place);
        put(r, key, what);
    }
    while ((words = next_word(words, word, sizeof word))) {
        wf_snprintf(key, sizeof key, "%d %s", r->place, word);
        put(r, key, what);
    }
}

static void take_token(struct reading *r, const char *token)
{
    char name[64];
    bool more = strlen(token) > 3 && strcmp(token + strlen(token) - 3, "...") == 0;
    wf_snprintf(name, sizeof name, "%.*s", (int)(strlen(token) - (more ? 3 : 0)), token);
    if (name[0] >= 'A' && name[0] <= 'Z') {
        put_argument(r, name);
        if (more)
            put(r, "*", r->argument);
    } else {
        put_words(r, name);
    }
    r->place++;
}

size_t wf_takes_operands(const struct wf_command *c, struct wf_takes_operand out[WF_TAKES_MOST])
{
    struct reading r = {.command = c, .out = out, .place = 1, .start = 1, .argument = "file"};
    for (const char *at = c->operands; *at;) {
        char token[64];
        size_t length = strcspn(at, " []");
        if (*at == '[')
            r.start = r.place;
        if (length == 0) {
            at++;
            continue;
        }
        wf_snprintf(token, sizeof token, "%.*s", (int)length, at);
        at += length;
        if (strcmp(token, "|") == 0) {
            r.place = r.start;
            r.words[0] = '\0';
        } else if (strcmp(token, "...") == 0) {
            put(&r, "*", r.argument);
        } else {
            take_token(&r, token);
        }
    }
    return r.count;
}
