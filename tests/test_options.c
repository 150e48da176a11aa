/* The command line: the tables of commands and options check themselves, and arguments are parsed.
 */
#include "support/test.h"

#include "cli/command.h"
#include "cli/help.h"
#include "cli/ids.h"
#include "cli/lister.h"

/* ---- Tables ---------------------------------------------------------------------------------- */

static void check_row(const struct wf_command *c, const struct wf_option *row)
{
    assert_non_null(row->name);
    assert_non_null(row->text);
    assert_true((row->kind == WF_OPTION_FLAG) == (row->word == NULL));
    assert_true((row->kind == WF_OPTION_CHOICES) == (row->words != NULL));
    assert_true(row->least <= row->most);
    assert_true((row->limits != NULL) == (row->most > 0));
    assert_true(row->offset < c->options_size);
    size_t length = strlen(row->text);
    assert_true(length > 3);
    assert_true(row->text[length - 1] != '.' || strcmp(row->text + length - 3, "...") == 0);
    for (const struct wf_option *other = c->options; other < row; other++) {
        assert_string_not_equal(other->name, row->name);
        assert_true(!other->also || strcmp(other->also, row->name) != 0);
        assert_int_not_equal(other->offset, row->offset);
    }
}

/* Every command can be called with its fewest operands and no option: all presets convert. */
static void check_presets(const struct wf_command *c)
{
    char word[] = "x", *words[] = {word, word, word};
    struct wf_call call;
    struct wf_error e = {0};
    enum wf_status status = wf_options_parse(c, (int)c->least, words, &call, &e);
    if (status != WF_OK)
        fail_msg("%s: %s", c->name, e.text);
    wf_arena_free(call.arena);
}

static void tables_are_whole(void **state)
{
    for (const struct wf_command *const *c = wf_commands; *c; c++) {
        assert_non_null((*c)->run);
        assert_true((*c)->least <= (*c)->most);
        assert_true(((*c)->most > 0) == (*(*c)->operands != '\0'));
        assert_true(strncmp((*c)->example, "wortfit ", 8) == 0);
        assert_true((*c)->options_size > 0);
        for (const struct wf_option *row = (*c)->options; row->kind != WF_OPTION_END; row++)
            check_row(*c, row);
        check_presets(*c);
    }
    (void)state;
}

static void fits_the_screen(const char *text, const char *name)
{
    int lines = 0;
    for (const char *line = text; *line; lines++) {
        size_t length = strcspn(line, "\n");
        if (length > WF_HELP_COLUMNS)
            fail_msg("help of %s has a line of %zu columns: %.*s", name, length, (int)length, line);
        line += length + (line[length] == '\n');
    }
    if (lines > WF_HELP_LINES)
        fail_msg("help of %s has %d lines", name, lines);
}

static void help_fits_one_screen(void **state)
{
    struct wf_text text = {0};
    wf_help_all(&text);
    fits_the_screen(text.data, "all");
    for (const struct wf_command *const *c = wf_commands; *c; c++) {
        wf_text_free(&text);
        wf_help_command(&text, *c, false);
        fits_the_screen(text.data, (*c)->name);
    }
    wf_text_free(&text);
    (void)state;
}

/* ---- Finding a command ----------------------------------------------------------------------- */

static void commands_are_found_by_unique_beginnings(void **state)
{
    static const struct {
        const char *typed, *found, *message; /* found NULL: the message */
    } rows[] = {
        {"solve", "solve", ""},
        {"so", "solve", ""},
        {"s", NULL, "command 's' may be any of solve, scale, substitute, survey, sheet, stock"},
        {"y", "yeasts", ""},
        {"h", NULL, "command 'h' may be any of hops, help"},
        {"slove", NULL, "unknown command 'slove', did you mean 'solve'?"},
        {"brew", "brewed", ""},
        {"xyz", NULL, "unknown command 'xyz', see 'wortfit help'"},
        {"solver", NULL, "unknown command 'solver', did you mean 'solve'?"},
        {"", NULL, "unknown command '', see 'wortfit help'"},
    };
    for (size_t i = 0; i < COUNT_OF(rows); i++) {
        struct wf_error e = {0};
        const struct wf_command *c = wf_command_find(rows[i].typed, &e);
        assert_string_equal(e.text, rows[i].message);
        assert_int_equal(e.status, rows[i].found ? WF_OK : WF_USAGE);
        if (rows[i].found)
            assert_string_equal(c->name, rows[i].found);
        else
            assert_null(c);
    }
    (void)state;
}

/* ---- A command of our own, with one option of each kind ----------------------------------------
 */

struct kinds {
    bool flag;
    const char *text;
    const char *const *texts;
    double quantity;
    struct wf_range range;
    long date;
    struct wf_choices choices;
};
static const char *const colours[] = {"pale", "amber", "brown", NULL};
static const struct wf_option kind_rows[] = {
    {.name = "flag", .kind = WF_OPTION_FLAG, .offset = offsetof(struct kinds, flag)},
    {.name = "text",
     .word = "TEXT",
     .kind = WF_OPTION_TEXT,
     .offset = offsetof(struct kinds, text)},
    {.name = "texts",
     .word = "TEXT",
     .kind = WF_OPTION_TEXTS,
     .offset = offsetof(struct kinds, texts)},
    {.name = "batch",
     .word = "VOLUME",
     .kind = WF_OPTION_QUANTITY,
     .dimension = WF_DIM_VOLUME,
     .least = 1,
     .most = 100,
     .limits = "1 L to 100 L",
     .without_end = "largest",
     .offset = offsetof(struct kinds, quantity)},
    {.name = "colour",
     .also = "color",
     .word = "RANGE",
     .kind = WF_OPTION_RANGE,
     .dimension = WF_DIM_BEER_COLOUR,
     .tolerance = 1,
     .offset = offsetof(struct kinds, range)},
    {.name = "on", .word = "DATE", .kind = WF_OPTION_DATE, .offset = offsetof(struct kinds, date)},
    {.name = "kind",
     .word = "LIST",
     .kind = WF_OPTION_CHOICES,
     .words = colours,
     .many = true,
     .preset = "amber",
     .offset = offsetof(struct kinds, choices)},
    {.kind = WF_OPTION_END},
};
static const struct wf_command kind_command = {.name = "try",
                                               .operands = "NAME",
                                               .least = 1,
                                               .most = 2,
                                               .options = kind_rows,
                                               .options_size = sizeof(struct kinds)};

#define WORDS_MOST 12

/* Parses words parted by '|'. */
static enum wf_status parse(char *line, struct wf_call *call, struct wf_error *e)
{
    char *words[WORDS_MOST];
    int count = 0;
    for (char *word = line; word && *line && count < WORDS_MOST; count++) {
        words[count] = word;
        word = strchr(word, '|');
        if (word)
            *word++ = '\0';
    }
    return wf_options_parse(&kind_command, count, words, call, e);
}

static void every_kind_is_converted(void **state)
{
    char line[] = "one|--flag|--text=a=b|--texts|x|--texts=y|--batch|5 gal|--color|12 SRM|"
                  "--on=2026-11-25|--kind=brown,pale";
    struct wf_call call;
    struct wf_error e = {0};
    assert_int_equal(parse(line, &call, &e), WF_OK);
    const struct kinds *k = call.options;
    assert_int_equal(call.operand_count, 1);
    assert_string_equal(call.operands[0], "one");
    assert_true(k->flag);
    assert_string_equal(k->text, "a=b");
    assert_string_equal(k->texts[0], "x");
    assert_string_equal(k->texts[1], "y");
    assert_null(k->texts[2]);
    assert_close(k->quantity, 18.92705892, 1e-9); /* 5 x 3.785411784, NIST SP 811 */
    assert_close(k->range.low, 11, 1e-12);
    assert_close(k->range.high, 13, 1e-12);
    assert_int_equal(k->date, 20782); /* days since 1970-01-01, by date(1) */
    assert_int_equal(k->choices.count, 2);
    assert_int_equal(k->choices.picked[0], 2);
    assert_int_equal(k->choices.picked[1], 0);
    wf_arena_free(call.arena);
    (void)state;
}

static void a_word_may_stand_for_no_end(void **state)
{
    char line[] = "one|--batch|largest";
    struct wf_call call;
    struct wf_error e = {0};
    assert_int_equal(parse(line, &call, &e), WF_OK);
    const struct kinds *k = call.options;
    assert_true(isinf(k->quantity) && k->quantity > 0);
    wf_arena_free(call.arena);
    (void)state;
}

static void what_is_not_given_is_known(void **state)
{
    char line[] = "--|--flag|-";
    struct wf_call call;
    struct wf_error e = {0};
    assert_int_equal(parse(line, &call, &e), WF_OK);
    const struct kinds *k = call.options;
    assert_string_equal(call.operands[0], "--flag");
    assert_string_equal(call.operands[1], "-");
    assert_false(k->flag);
    assert_null(k->text);
    assert_null(k->texts);
    assert_true(isnan(k->quantity));
    assert_true(wf_range_is_any(k->range));
    assert_int_equal(k->date, -1);
    assert_int_equal(k->choices.picked[0], 1);
    wf_arena_free(call.arena);
    (void)state;
}

static void what_is_wrong_is_said(void **state)
{
    static const struct {
        const char *line, *message;
    } rows[] = {
        {"", "needs its NAME: wortfit try NAME"},
        {"a|b|c", "one word too many: 'c'"},
        {"a|--colr|3", "unknown option '--colr', did you mean '--colour'?\n"},
        {"a|--zzz", "unknown option '--zzz', see 'wortfit help try'"},
        {"a|-f", "unknown option '-f': options begin with two dashes"},
        {"a|--text", "option --text needs its TEXT"},
        {"a|--text=", "option --text needs its TEXT"},
        {"a|--text|--flag", "option --text needs its TEXT"},
        {"a|--flag=yes", "option --flag takes no value, but 'yes' was given"},
        {"a|--text=x|--text=y", "option --text is given twice"},
        {"a|--batch=0.5 L", "option --batch: '0.5 L' is outside 1 L to 100 L"},
        {"a|--batch=101 L", "option --batch: '101 L' is outside 1 L to 100 L"},
        {"a|--batch=20", "option --batch: '20' needs a unit: write \"20 L\", \"20 mL\", \"20 gal\" "
                         "or \"20 qt\", or \"largest\""},
        {"a|--batch=larges", "option --batch: 'larges' lacks a number that can be read: a volume "
                             "is written \"20 L\", or \"largest\""},
        {"a|--on=2026-02-30", "option --on: '2026-02-30' is not a day, such as 2026-11-25"},
        {"a|--kind=red", "option --kind: 'red' is not one of pale, amber, brown"},
        {"a|--kind=pale,", "option --kind: '' is not one of pale, amber, brown"},
        {"a|--kind=pale,pale", "option --kind: 'pale,pale' names one of its words twice"},
    };
    for (size_t i = 0; i < COUNT_OF(rows); i++) {
        char line[64];
        struct wf_call call;
        struct wf_error e = {0};
        strncpy(line, rows[i].line, sizeof line - 1);
        line[sizeof line - 1] = '\0';
        assert_int_equal(parse(line, &call, &e), WF_USAGE);
        size_t length = strcspn(rows[i].message, "\n");
        if (strncmp(e.text, rows[i].message, length) != 0)
            fail_msg("\"%s\" says: %s", rows[i].line, e.text);
        wf_arena_free(call.arena);
    }
    (void)state;
}

static void all_that_is_wrong_is_said_at_once(void **state)
{
    char line[] = "--zzz|--on=never|--kind=red";
    struct wf_call call;
    struct wf_error e = {0};
    assert_int_equal(parse(line, &call, &e), WF_USAGE);
    assert_int_equal(e.count, 4); /* and no operand */
    wf_arena_free(call.arena);
    (void)state;
}

static void help_needs_nothing_else_to_be_right(void **state)
{
    char line[] = "--zzz|--help";
    struct wf_call call;
    struct wf_error e = {0};
    assert_int_equal(parse(line, &call, &e), WF_OK);
    assert_true(call.help);
    wf_arena_free(call.arena);
    (void)state;
}

static void parsing_survives_want_of_memory(void **state)
{
    enum wf_status status = WF_MEMORY;
    for (long n = 0; status != WF_OK; n++) {
        char line[] = "a|--texts=x|--kind=brown";
        struct wf_call call;
        struct wf_error e = {0};
        wf_alloc_fail_at(n);
        status = parse(line, &call, &e);
        wf_alloc_fail_at(-1);
        assert_true(status == WF_OK || status == WF_MEMORY);
        wf_arena_free(call.arena);
    }
    (void)state;
}

/* ---- Filters and ids ------------------------------------------------------------------------- */

static void filters(void **state)
{
    struct wf_choices none = {.count = 0}, some = {{2, 0}, 2};
    assert_true(wf_text_holds("Crystal 60", "stal"));
    assert_true(wf_text_holds("Crystal 60", "CRY"));
    assert_false(wf_text_holds("Crystal 60", "600"));
    assert_false(wf_text_holds(NULL, "a"));
    assert_false(wf_choice_excludes(&none, 1));
    assert_false(wf_choice_excludes(&some, 0));
    assert_true(wf_choice_excludes(&some, 1));
    assert_true(wf_ranges_meet((struct wf_range){1, 2, 1}, (struct wf_range){2, 3, 2}));
    assert_false(wf_ranges_meet((struct wf_range){1, 2, 1}, (struct wf_range){2.1, 3, 2}));
    assert_true(wf_ranges_meet(wf_range_any(), (struct wf_range){2, 3, 2}));
    (void)state;
}

static void id_lists_are_joined(void **state)
{
    static const char *const first[] = {"a", "b", NULL}, *const second[] = {"c", NULL},
                             *const without[] = {"b", NULL};
    struct wf_arena *arena = wf_arena_new();
    const char *const *out = NULL;
    assert_int_equal(wf_ids_join(first, second, without, arena, &out, NULL), WF_OK);
    assert_string_equal(out[0], "a");
    assert_string_equal(out[1], "c");
    assert_null(out[2]);
    assert_int_equal(wf_ids_join(NULL, NULL, without, arena, &out, NULL), WF_OK);
    assert_null(out);
    wf_arena_free(arena);
    (void)state;
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(tables_are_whole),
        cmocka_unit_test(help_fits_one_screen),
        cmocka_unit_test(commands_are_found_by_unique_beginnings),
        cmocka_unit_test(every_kind_is_converted),
        cmocka_unit_test(a_word_may_stand_for_no_end),
        cmocka_unit_test(what_is_not_given_is_known),
        cmocka_unit_test(what_is_wrong_is_said),
        cmocka_unit_test(all_that_is_wrong_is_said_at_once),
        cmocka_unit_test(help_needs_nothing_else_to_be_right),
        cmocka_unit_test(parsing_survives_want_of_memory),
        cmocka_unit_test(filters),
        cmocka_unit_test(id_lists_are_joined),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
