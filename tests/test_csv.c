/* Tables as text: RFC 4180 and what spreadsheets make of it. */
#include "support/dice.h"
#include "support/memory.h"
#include "support/test.h"

#include "base/text.h"
#include "pantry/csv.h"

#include <stdbool.h>

/* ---- What is read ---------------------------------------------------------------------------- */

/* Cells as "<1:1 a>", records one a line. */
static char *show(const struct wf_csv *c)
{
    static char out[4096];
    size_t used = 0;
    out[0] = '\0';
    for (size_t i = 0; i < c->records * c->columns; i++) {
        const struct wf_csv_cell *cell = &c->cells[i];
        used += (size_t)snprintf(out + used, sizeof out - used, "<%zu:%zu %s>%s", cell->line,
                                 cell->column, cell->text, (i + 1) % c->columns ? "" : "\n");
    }
    return out;
}

static const struct {
    const char *name, *text, *want;
} good_row[] = {
    {"commas", "a,b\n1,2\n", "<1:1 a><1:3 b>\n<2:1 1><2:3 2>\n"},
    {"no newline at the end", "a,b\n1,2", "<1:1 a><1:3 b>\n<2:1 1><2:3 2>\n"},
    {"lines of Windows", "a,b\r\n1,2\r\n", "<1:1 a><1:3 b>\n<2:1 1><2:3 2>\n"},
    {"semicolons", "a;b\n1,5;2\n", "<1:1 a><1:3 b>\n<2:1 1,5><2:5 2>\n"},
    {"tabs", "a\tb\n1,5\t2;\n", "<1:1 a><1:3 b>\n<2:1 1,5><2:5 2;>\n"},
    {"a mark",
     "\xEF\xBB\xBF"
     "a,b\n1,2\n",
     "<1:1 a><1:3 b>\n<2:1 1><2:3 2>\n"},
    {"one column", "a\n1\n", "<1:1 a>\n<2:1 1>\n"},
    {"header alone", "a,b\n", "<1:1 a><1:3 b>\n"},
    {"quotes", "a,b\n\"1,\n2\",\"3\"\n4,5\n",
     "<1:1 a><1:3 b>\n<2:1 1,\n2><3:4 3>\n<4:1 4><4:3 5>\n"},
    {"quotes in quotes", "a,b\n\"\"\"x\"\"\",\"\"\"\"\n", "<1:1 a><1:3 b>\n<2:1 \"x\"><2:9 \">\n"},
    {"quoted header", "\"a;x\",\"b\"\n1,2\n", "<1:1 a;x><1:7 b>\n<2:1 1><2:3 2>\n"},
    {"empty cells", "a,b,c\n,,3\n\"\",2,\n",
     "<1:1 a><1:3 b><1:5 c>\n<2:1 ><2:2 ><2:3 3>\n<3:1 ><3:4 2><3:6 >\n"},
    {"empty lines", "\n\na,b\n\n,\n1,2\n ,\n\n", "<3:1 a><3:3 b>\n<6:1 1><6:3 2>\n"},
    {"blanks round cells", " a , b\n 1 ,\" 2 \" \n", "<1:2 a><1:6 b>\n<2:2 1><2:5 2>\n"},
    {"blanks before a quote", "a,b\n1, \"2\"\n", "<1:1 a><1:3 b>\n<2:1 1><2:4 2>\n"},
    {"columns are characters", "a,b\n\xC3\xA9\xE2\x82\xAC,2\n",
     "<1:1 a><1:3 b>\n<2:1 \xC3\xA9\xE2\x82\xAC><2:4 2>\n"},
};

static void tables_are_read(void **state)
{
    (void)state;
    for (size_t i = 0; i < COUNT_OF(good_row); i++) {
        struct wf_csv *c = NULL;
        struct wf_error e = {0};
        enum wf_status status =
            wf_csv_parse("t.csv", good_row[i].text, strlen(good_row[i].text), &c, &e);
        if (status != WF_OK)
            fail_msg("%s: %s", good_row[i].name, e.text);
        if (strcmp(show(c), good_row[i].want) != 0)
            fail_msg("%s:\n%s\nwant:\n%s", good_row[i].name, show(c), good_row[i].want);
        wf_csv_free(c);
    }
}

/* ---- What is refused ------------------------------------------------------------------------- */

static const struct {
    const char *name, *text;
    size_t length; /* 0: that of the text */
    const char *want;
} bad_row[] = {
    {"nothing", "", 0, "t.csv:1:1: nothing is here; the first line names the columns"},
    {"blanks", "\n , \n", 0, "t.csv:1:1: nothing is here; the first line names the columns"},
    {"a quote inside", "a,b\n1,2\"\n", 0,
     "t.csv:2:4: a quote inside a cell; such a cell is quoted as a whole, and each quote in it "
     "written twice"},
    {"a quote that stays open", "a,b\n1,\"2\n3,4\n", 0, "t.csv:2:3: this quote is never closed"},
    {"text behind a quote", "a,b\n1,\"2\"3\n", 0,
     "t.csv:2:6: text behind the closing quote of a cell"},
    {"two lines of other lengths", "a,b\n1\n2,3\n4,5,6\n", 0,
     "t.csv:2:1: holds 1 cells, but the header has 2; a cell with ',' in it is written in double "
     "quotes\n"
     "t.csv:4:1: holds 3 cells, but the header has 2; a cell with ',' in it is written in double "
     "quotes"},
    {"Latin-1", "a,b\n\xE9,2\n", 0, "t.csv:2:1: a byte that is not UTF-8; save the file as UTF-8"},
    {"UTF-16",
     "\xFF\xFE"
     "a",
     0, "t.csv:1:1: a byte that is not UTF-8; save the file as UTF-8"},
    {"NUL", "a,b\n1\0,2\n", 9, "t.csv:2:2: a control character; a table is plain text"},
    {"escape", "a,b\n\"\x1B[1m\",2\n", 0, "t.csv:2:2: a control character; a table is plain text"},
    {"lines of old computers", "a,b\r1,2\r", 0,
     "t.csv:1:4: a control character; a table is plain text"},
};

static void what_is_no_table_is_refused(void **state)
{
    (void)state;
    for (size_t i = 0; i < COUNT_OF(bad_row); i++) {
        struct wf_csv *c = NULL;
        struct wf_error e = {0};
        size_t length = bad_row[i].length ? bad_row[i].length : strlen(bad_row[i].text);
        assert_int_equal(wf_csv_parse("t.csv", bad_row[i].text, length, &c, &e), WF_BAD_INPUT);
        assert_null(c);
        if (strcmp(e.text, bad_row[i].want) != 0)
            fail_msg("%s:\n%s\nwant:\n%s", bad_row[i].name, e.text, bad_row[i].want);
    }
}

static void limits_hold(void **state)
{
    struct wf_text wide = {0}, most = {0};
    struct wf_csv *c = NULL;
    struct wf_error e = {0};
    (void)state;
    for (int i = 0; i < WF_CSV_COLUMNS_MOST; i++)
        wf_text_add(&wide, "%sc", i > 0 ? "," : "");
    assert_int_equal(wf_csv_parse("t", wide.data, wide.length, &c, &e), WF_OK);
    assert_int_equal(c->columns, WF_CSV_COLUMNS_MOST);
    wf_csv_free(c);
    wf_text_add(&wide, ",c");
    assert_int_equal(wf_csv_parse("t", wide.data, wide.length, &c, &e), WF_BAD_INPUT);
    assert_string_equal(e.text, "t:1:1: more than 64 columns");
    wf_error_clear(&e);
    for (int i = 0; i < WF_CSV_RECORDS_MOST; i++)
        wf_text_add(&most, "a\n");
    assert_int_equal(wf_csv_parse("t", most.data, most.length, &c, &e), WF_OK);
    assert_int_equal(c->records, WF_CSV_RECORDS_MOST);
    wf_csv_free(c);
    wf_text_add(&most, "a\n");
    assert_int_equal(wf_csv_parse("t", most.data, most.length, &c, &e), WF_BAD_INPUT);
    assert_string_equal(e.text, "t:20001:1: more than 20000 lines");
    wf_text_free(&wide);
    wf_text_free(&most);
}

/* ---- Drawn tables ---------------------------------------------------------------------------- */

#define DRAWN_COLUMNS 3
#define DRAWN_RECORDS 4

/* What is written after the rules is read again as it was. */
static void write_cell(struct dice *d, struct wf_text *t, const char *cell, char separator)
{
    const char must[] = {separator, '"', '\n', '\0'};
    bool quote = strpbrk(cell, must) != NULL || dice_chance(d, 30);
    wf_text_add(t, "%s", quote ? "\"" : "");
    for (const char *p = cell; *p; p++) {
        wf_text_append(t, p, 1);
        if (*p == '"')
            wf_text_append(t, p, 1);
    }
    wf_text_add(t, "%s", quote ? "\"" : "");
}

static void drawn_tables_come_back(void **state)
{
    static const char *const cells[] = {"x",    "4.5 kg", "a,b",      "a;b",  "a\tb", "\"",
                                        "\"\"", "1\n2",   "\xC3\xA4", "=1+1", "'",    "\\"};
    static const char separators[] = {',', ';', '\t'};
    struct dice d = {4180};
    (void)state;
    for (int run = 0; run < 5000; run++) {
        struct wf_text t = {0};
        struct wf_error e = {0};
        const char *drawn[DRAWN_COLUMNS * DRAWN_RECORDS];
        char separator = separators[dice_whole(&d, 0, 2)];
        const char *line_end = dice_chance(&d, 50) ? "\n" : "\r\n";
        for (size_t i = 0; i < COUNT_OF(drawn); i++) {
            drawn[i] = i < DRAWN_COLUMNS ? "h" : cells[dice_whole(&d, 0, COUNT_OF(cells) - 1)];
            write_cell(&d, &t, drawn[i], separator);
            if ((i + 1) % DRAWN_COLUMNS)
                wf_text_add(&t, "%c", separator);
            else
                wf_text_add(&t, "%s", line_end);
        }
        struct wf_csv *c = NULL;
        if (wf_csv_parse("t", t.data, t.length, &c, &e) != WF_OK)
            fail_msg("%s\n%s", e.text, t.data);
        assert_int_equal(c->records, DRAWN_RECORDS);
        assert_int_equal(c->separator, separator);
        for (size_t i = 0; i < COUNT_OF(drawn); i++)
            assert_string_equal(c->cells[i].text, drawn[i]);
        wf_csv_free(c);
        wf_text_free(&t);
    }
}

/* One byte is another: a table still, or refused with a place. */
static void damaged_tables_do_no_harm(void **state)
{
    static const char text[] = "id,have\n\"a\",\"4 \"\"kg\"\r\nb,\xC3\xA4\n";
    struct dice d = {1};
    (void)state;
    for (int run = 0; run < 20000; run++) {
        size_t length = (size_t)dice_whole(&d, 0, (long)strlen(text));
        char *copy = malloc(length ? length : 1);
        memcpy(copy, text, length);
        for (long n = dice_whole(&d, 0, 3); length > 0 && n > 0; n--)
            copy[dice_whole(&d, 0, (long)length - 1)] = (char)dice_whole(&d, -128, 127);
        struct wf_csv *c = NULL;
        struct wf_error e = {0};
        enum wf_status status = wf_csv_parse("t", copy, length, &c, &e);
        assert_true(status == WF_OK || (status == WF_BAD_INPUT && e.count > 0));
        assert_true((status == WF_OK) == (c != NULL));
        wf_csv_free(c);
        free(copy);
    }
}

static enum wf_status parse_again(void *data, struct wf_error *e)
{
    struct wf_csv *c;
    enum wf_status status = wf_csv_parse("t.csv", data, strlen(data), &c, e);
    assert_true((status == WF_OK) == (c != NULL));
    wf_csv_free(c);
    return status;
}

static void running_out_of_memory_is_told(void **state)
{
    static char text[] = "a,b,c\n1,\"2\",3\n4,5,6\n";
    (void)state;
    check_out_of_memory(parse_again, text, 3, 1);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(tables_are_read),
        cmocka_unit_test(what_is_no_table_is_refused),
        cmocka_unit_test(limits_hold),
        cmocka_unit_test(drawn_tables_come_back),
        cmocka_unit_test(damaged_tables_do_no_harm),
        cmocka_unit_test(running_out_of_memory_is_told),
    };
    return cmocka_run_group_tests_name("csv", tests, NULL, NULL) != 0;
}
