/* test_takes.c: what completes an operand, read from usage lines such as commands have or may have.
 */
#include "pages/pages.h"
#include "support/test.h"

#include <string.h>

static void usage_lines(void **state)
{
    static const struct {
        const char *command, *operands, *takes; /* "KEY: WHAT; " for each row */
    } rows[] = {
        {"solve", "", ""},
        {"solve", "TARGET", "1: any beer file; "},
        {"malts", "[NAME]", "1: any malt; "},
        {"beers", "[NAME]", "1: any beer; "},
        {"compare", "RECIPE RECIPE", "1: file; 2: file; "},
        {"compare", "RECIPE RECIPE...", "1: file; 2: file; *: file; "},
        {"plan", "BEER...", "1: any beer file; *: any beer file; "},
        {"survey", "[TARGET ...]", "1: any beer file; *: any beer file; "},
        {"stock", "STORE [add|set ID | import FILE]",
         "1: store; 2: word add set import; 3 add: any malt hop yeast lot; "
         "3 set: any malt hop yeast lot; 3 import: file; "},
        {"brewed", "LOG [add RECIPE | list]", "1: file; 2: word add list; 3 add: file; "},
        {"help", "[COMMAND]", "1: command; "},
        {"new", "SOMETHING", "1: file; "},
    };
    for (size_t i = 0; i < COUNT_OF(rows); i++) {
        const struct wf_command c = {.name = rows[i].command, .operands = rows[i].operands};
        struct wf_takes_operand got[WF_TAKES_MOST];
        struct wf_text text = {0};
        size_t count = wf_takes_operands(&c, got);
        wf_text_add(&text, "%s", "");
        for (size_t j = 0; j < count; j++)
            wf_text_add(&text, "%s: %s; ", got[j].key, got[j].what);
        assert_string_equal(text.data ? text.data : "", rows[i].takes);
        wf_text_free(&text);
    }
    (void)state;
}

static void options(void **state)
{
    static const char *const words[] = {"metric", "us", NULL};
    static const struct {
        struct wf_option row;
        const char *takes;
    } rows[] = {
        {{.name = "json", .kind = WF_OPTION_FLAG}, "flag"},
        {{.name = "store", .word = "FILE", .kind = WF_OPTION_TEXT}, "store"},
        {{.name = "brewhouse", .word = "FILE", .kind = WF_OPTION_TEXT}, "file"},
        {{.name = "target", .word = "TARGET", .kind = WF_OPTION_TEXT}, "any beer file"},
        {{.name = "use", .word = "ID", .kind = WF_OPTION_TEXTS}, "any malt hop lot"},
        {{.name = "og", .word = "RANGE", .kind = WF_OPTION_RANGE}, "text"},
        {{.name = "units", .word = "WORD", .kind = WF_OPTION_CHOICES, .words = words},
         "word metric us"},
        {{.name = "units", .word = "LIST", .kind = WF_OPTION_CHOICES, .words = words, .many = true},
         "list metric us"},
        {{.name = "batch", .word = "VOLUME", .kind = WF_OPTION_QUANTITY, .without_end = "largest"},
         "word largest"},
    };
    static const struct wf_command c = {.name = "try"};
    for (size_t i = 0; i < COUNT_OF(rows); i++) {
        struct wf_text text = {0};
        wf_takes_option(&text, &c, &rows[i].row);
        assert_string_equal(text.data, rows[i].takes);
        wf_text_free(&text);
    }
    (void)state;
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(usage_lines),
        cmocka_unit_test(options),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
