/*
 * fuzz_arguments.c: the command line: one word a line. Every command parses what it is given; those
 * that touch no file run, too, for one input in eight: they take a hundred times as long.
 */
#include "fuzz/fuzz.h"

#include "cli/command.h"
#include "cli/help.h"

#define WORDS_MOST 64

/* Words of the input as argv; returns how many. */
static int split(char *text, char *words[WORDS_MOST])
{
    int count = 0;
    for (char *at = text; at && *at && count < WORDS_MOST;) {
        char *end = strchr(at, '\n');
        words[count++] = at;
        if (end)
            *end++ = '\0';
        at = end;
    }
    return count;
}

static bool touches_no_file(const struct wf_command *c)
{
    static const char *const names[] = {"beers", "malts", "yeasts", "words", "help"};
    for (size_t i = 0; i < sizeof names / sizeof names[0]; i++)
        if (strcmp(names[i], c->name) == 0)
            return true;
    return false;
}

static void run(const struct wf_command *c, int count, char **words, bool whole)
{
    static struct wf_error e;
    struct wf_call call;
    struct wf_text out = {0};
    wf_error_clear(&e);
    enum wf_status status = wf_options_parse(c, count, words, &call, &e);
    if (!call.help) /* the page is shown whatever else is wrong, which is told too */
        fuzz_check_status(status, &e);
    if (status == WF_OK && call.help)
        wf_help_command(&out, c, false);
    else if (status == WF_OK && whole && touches_no_file(c))
        fuzz_check_status(c->run(&call, &out, &e), &e);
    wf_text_free(&out);
    wf_arena_free(call.arena);
}

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size)
{
    static struct wf_error e;
    char *words[WORDS_MOST], *text = fuzz_text(data, size);
    int count = split(text, words);
    wf_error_clear(&e);
    const struct wf_command *c = count > 0 ? wf_command_find(words[0], &e) : NULL;
    FUZZ_MUST(count == 0 || (c == NULL) == (e.count > 0));
    if (c)
        run(c, count - 1, words + 1, size % 8 == 0);
    for (const struct wf_command *const *all = wf_commands; count > 0 && !c && *all; all++)
        run(*all, count, words, false);
    free(text);
    return 0;
}
