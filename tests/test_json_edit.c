/* Changes to JSON text: what is asked for comes about, and every other byte stays. The expected
 * texts are written by hand; drawn ones are held against cJSON, which changes a tree instead. */
#include "support/memory.h"
#include "support/test.h"

#include "pantry/json_edit.h"

#include <stdbool.h>

/* ---- One change, by hand --------------------------------------------------------------------- */

enum op { REPLACE, REMOVE, ADD, APPEND };

struct step {
    enum op op;
    const char *path; /* "a.1.b"; of the container, where something comes; "" the root */
    const char *key, *value;
};

#define STEPS_MOST 3

struct row {
    const char *name, *text;
    struct step steps[STEPS_MOST];
    const char *want;
};

static size_t find(const struct wf_json_edit *e, const char *path)
{
    size_t node = 0;
    while (*path) {
        char part[32];
        size_t length = strcspn(path, ".");
        assert_true(length < sizeof part);
        memcpy(part, path, length);
        part[length] = '\0';
        bool item = strspn(part, "0123456789") == length;
        size_t index = 0;
        for (size_t i = 0; item && i < length; i++)
            index = 10 * index + (size_t)(part[i] - '0');
        size_t child =
            item ? wf_json_edit_item(e, node, index) : wf_json_edit_member(e, node, part);
        if (child == 0)
            fail_msg("no %s in the text", part);
        node = child;
        path += length + (path[length] == '.');
    }
    return node;
}

static void take_step(struct wf_json_edit *e, const struct step *s)
{
    struct wf_json_member member = {s->key, s->value};
    size_t node = find(e, s->path);
    if (s->op == REPLACE)
        wf_json_edit_replace(e, node, s->value);
    else if (s->op == REMOVE)
        wf_json_edit_remove(e, node);
    else if (s->op == ADD)
        wf_json_edit_add(e, node, member);
    else /* an object of one member, to the list of the key */
        wf_json_edit_append(e, node, s->key, &(struct wf_json_member){"id", s->value}, 1);
}

static enum wf_status change(const struct row *row, char **out, size_t *length, struct wf_error *e)
{
    const struct wf_json_source source = {"t.json", row->text, strlen(row->text)};
    struct wf_json_edit *edit = NULL;
    enum wf_status status = wf_json_edit_open(&source, &edit, e);
    if (status != WF_OK)
        return status;
    for (size_t i = 0; i < STEPS_MOST && row->steps[i].path; i++)
        take_step(edit, &row->steps[i]);
    status = wf_json_edit_finish(edit, out, length, e);
    wf_json_edit_free(edit);
    return status;
}

#define GONE(path)                                                                                 \
    {                                                                                              \
        REMOVE, path, NULL, NULL                                                                   \
    }

/* Texts of a line are written on one; "wide" rows reach over column 100. */
static const struct row rows[] = {
    {"nothing", "{ \"a\": 1 } // x\n", {{0}}, "{ \"a\": 1 } // x\n"},

    /* A value becomes another. */
    {"replace",
     "{\"a\":1,/*c*/\"b\":[2,3]}",
     {{REPLACE, "a", NULL, "\"x\""}},
     "{\"a\":\"x\",/*c*/\"b\":[2,3]}"},
    {"replace an object",
     "{ \"a\": { \"b\": 1 }, \"c\": 2 }",
     {{REPLACE, "a", NULL, "[]"}},
     "{ \"a\": [], \"c\": 2 }"},
    {"replace two",
     "{ \"a\": 1, \"b\": 2 }",
     {{REPLACE, "b", NULL, "20"}, {REPLACE, "a", NULL, "10"}},
     "{ \"a\": 10, \"b\": 20 }"},
    {"a key with escapes", "{ \"\\u0061\": 1 }", {{REPLACE, "a", NULL, "2"}}, "{ \"\\u0061\": 2 }"},
    {"what looks like a key in a text",
     "{ \"x\": \"\\\"a\\\": 1\", \"a\": 1 }",
     {{REPLACE, "a", NULL, "2"}},
     "{ \"x\": \"\\\"a\\\": 1\", \"a\": 2 }"},
    {"what looks like a key in a comment",
     "{ // \"a\": 1\n \"a\": 1 }",
     {{REPLACE, "a", NULL, "2"}},
     "{ // \"a\": 1\n \"a\": 2 }"},
    {"behind a mark",
     "\xEF\xBB\xBF{ \"a\": 1 }",
     {{REPLACE, "a", NULL, "2"}},
     "\xEF\xBB\xBF{ \"a\": 2 }"},

    /* Members that come. */
    {"add in a line", "{ \"a\": 1 }", {{ADD, "", "b", "2"}}, "{ \"a\": 1, \"b\": 2 }"},
    {"add, tight", "{\"a\":1,\"c\":3}", {{ADD, "", "b", "2"}}, "{\"a\":1,\"c\":3,\"b\":2}"},
    {"add, odd colons", "{ \"a\" :1 }", {{ADD, "", "b", "2"}}, "{ \"a\" :1, \"b\" :2 }"},
    {"add to nothing", "{}", {{ADD, "", "b", "2"}}, "{ \"b\": 2 }"},
    {"add a quote in a key", "{ \"a\": 1 }", {{ADD, "", "\"", "2"}}, "{ \"a\": 1, \"\\\"\": 2 }"},
    {"add in lines",
     "{\n  \"a\": 1,\n  \"b\": 2\n}\n",
     {{ADD, "", "c", "3"}},
     "{\n  \"a\": 1,\n  \"b\": 2,\n  \"c\": 3\n}\n"},
    {"add in lines, by tabs",
     "{\n\t\"a\": 1\n}\n",
     {{ADD, "", "c", "3"}},
     "{\n\t\"a\": 1,\n\t\"c\": 3\n}\n"},
    {"add in lines of Windows",
     "{\r\n  \"a\": 1\r\n}\r\n",
     {{ADD, "", "c", "3"}},
     "{\r\n  \"a\": 1,\r\n  \"c\": 3\r\n}\r\n"},
    {"add two in lines",
     "{\n  \"a\": 1\n}\n",
     {{ADD, "", "c", "3"}, {ADD, "", "d", "4"}},
     "{\n  \"a\": 1,\n  \"c\": 3,\n  \"d\": 4\n}\n"},
    {"a comment stays with its member",
     "{\n  \"a\": 1 // one\n}\n",
     {{ADD, "", "c", "3"}},
     "{\n  \"a\": 1, // one\n  \"c\": 3\n}\n"},
    {"two comments stay too",
     "{\n  \"a\": 1 /* one */ // and only\n  // last\n}\n",
     {{ADD, "", "c", "3"}},
     "{\n  \"a\": 1, /* one */ // and only\n  \"c\": 3\n  // last\n}\n"},
    {"a comment over two lines",
     "{\n  \"a\": 1 /* one\n  and only */\n}\n",
     {{ADD, "", "c", "3"}},
     "{\n  \"a\": 1,\n  \"c\": 3 /* one\n  and only */\n}\n"},
    {"add in lines, the bracket behind",
     "{\n  \"a\": 1,\n  \"b\": 2 }\n",
     {{ADD, "", "c", "3"}},
     "{\n  \"a\": 1,\n  \"b\": 2,\n  \"c\": 3 }\n"},
    {"add behind a full line",
     "{ \"l\": [\n    { \"id\": \"0123456789012345678901234567890123456789\", "
     "\"note\": \"01234567890123456789012345678\" } ] }",
     {{ADD, "l.0", "c", "\"wide\""}},
     "{ \"l\": [\n    { \"id\": \"0123456789012345678901234567890123456789\", "
     "\"note\": \"01234567890123456789012345678\",\n      \"c\": \"wide\" } ] }"},
    {"add in a second line",
     "{ \"l\": [\n    { \"id\": \"a\", \"x\": 1,\n      \"y\": 2 } ] }",
     {{ADD, "l.0", "c", "3"}},
     "{ \"l\": [\n    { \"id\": \"a\", \"x\": 1,\n      \"y\": 2, \"c\": 3 } ] }"},

    /* Members that go. */
    {"remove the first", "{ \"a\": 1, \"b\": 2 }", {GONE("a")}, "{ \"b\": 2 }"},
    {"remove the last", "{ \"a\": 1, \"b\": 2 }", {GONE("b")}, "{ \"a\": 1 }"},
    {"remove one between",
     "{ \"a\": 1, \"b\": 2, \"c\": 3 }",
     {GONE("b")},
     "{ \"a\": 1, \"c\": 3 }"},
    {"remove the only one", "{ \"a\": 1 }", {GONE("a")}, "{ }"},
    {"remove all", "{ \"a\": 1, \"b\": 2, \"c\": 3 }", {GONE("a"), GONE("c"), GONE("b")}, "{ }"},
    {"remove the last two",
     "{ \"a\": 1, \"b\": 2, \"c\": 3 }",
     {GONE("b"), GONE("c")},
     "{ \"a\": 1 }"},
    {"remove the first two",
     "{ \"a\": 1, \"b\": 2, \"c\": 3 }",
     {GONE("b"), GONE("a")},
     "{ \"c\": 3 }"},
    {"remove the first and the last",
     "{ \"a\": 1, \"b\": 2, \"c\": 3 }",
     {GONE("a"), GONE("c")},
     "{ \"b\": 2 }"},
    {"remove, tight", "{\"a\":1,\"b\":2,\"c\":3}", {GONE("b")}, "{\"a\":1,\"c\":3}"},
    {"remove a line",
     "{\n  \"a\": 1,\n  \"b\": 2,\n  \"c\": 3\n}\n",
     {GONE("b")},
     "{\n  \"a\": 1,\n  \"c\": 3\n}\n"},
    {"remove a line and its comment",
     "{\n  \"a\": 1, // one\n  \"b\": 2, // two\n  \"c\": 3\n}\n",
     {GONE("b")},
     "{\n  \"a\": 1, // one\n  \"c\": 3\n}\n"},
    {"remove the last line",
     "{\n  \"a\": 1, // one\n  // of b\n  \"b\": 2 // two\n}\n",
     {GONE("b")},
     "{\n  \"a\": 1 // one\n  // of b\n}\n"},
    {"remove a value of lines",
     "{\n  \"a\": 1,\n  \"b\": [\n    2\n  ],\n  \"c\": 3\n}\n",
     {GONE("b")},
     "{\n  \"a\": 1,\n  \"c\": 3\n}\n"},
    {"remove at the end of a line",
     "{ \"a\": 1, \"b\": 2, // of both\n  \"c\": 3 }",
     {GONE("b")},
     "{ \"a\": 1, // of both\n  \"c\": 3 }"},
    {"remove at the start of a line",
     "{ \"a\": 1,\n  \"b\": 2, \"c\": 3 }",
     {GONE("b")},
     "{ \"a\": 1,\n  \"c\": 3 }"},
    {"remove before a bracket", "{ \"a\": 1,\n  \"b\": 2 }", {GONE("b")}, "{ \"a\": 1 }"},
    {"remove before a comment of lines",
     "{\n  \"a\": 1,\n  \"b\": 2, /* x\n y */\n  \"c\": 3\n}",
     {GONE("b")},
     "{\n  \"a\": 1,\n /* x\n y */\n  \"c\": 3\n}"},
    {"a comma in a comment is none",
     "{ \"a\": 1 /*,*/, \"b\": 2 /*,*/ }",
     {GONE("b")},
     "{ \"a\": 1 /*,*/ /*,*/ }"},
    {"remove lines of Windows",
     "{\r\n  \"a\": 1,\r\n  \"b\": 2\r\n}\r\n",
     {GONE("b")},
     "{\r\n  \"a\": 1\r\n}\r\n"},
    {"remove an item", "{ \"l\": [1, 2, 3] }", {GONE("l.1")}, "{ \"l\": [1, 3] }"},

    /* Both at once. */
    {"remove the last and add",
     "{ \"a\": 1, \"b\": 2 }",
     {GONE("b"), {ADD, "", "c", "3"}},
     "{ \"a\": 1, \"c\": 3 }"},
    {"remove the only one and add",
     "{ \"a\": 1 }",
     {GONE("a"), {ADD, "", "c", "3"}},
     "{ \"c\": 3 }"},
    {"remove all and add",
     "{ \"a\": 1, \"b\": 2 }",
     {GONE("b"), {ADD, "", "c", "3"}, GONE("a")},
     "{ \"c\": 3 }"},
    {"remove the last line and add",
     "{\n  \"a\": 1, // one\n  \"b\": 2 // two\n}\n",
     {GONE("b"), {ADD, "", "c", "3"}},
     "{\n  \"a\": 1, // one\n  \"c\": 3\n}\n"},
    {"replace, remove and add",
     "{ \"a\": 1, \"b\": 2 }",
     {{REPLACE, "a", NULL, "10"}, GONE("b"), {ADD, "", "c", "3"}},
     "{ \"a\": 10, \"c\": 3 }"},

    /* Objects that come to a list. */
    {"append in a line",
     "{ \"l\": [ { \"id\": 1 } ] }",
     {{APPEND, "", "l", "2"}},
     "{ \"l\": [ { \"id\": 1 }, { \"id\": 2 } ] }"},
    {"append, tight",
     "{\"l\":[{\"id\":1}]}",
     {{APPEND, "", "l", "2"}},
     "{\"l\":[{\"id\":1}, {\"id\":2}]}"},
    {"append in lines",
     "{\n  \"l\": [\n    { \"id\": 1 }\n  ]\n}\n",
     {{APPEND, "", "l", "2"}},
     "{\n  \"l\": [\n    { \"id\": 1 },\n    { \"id\": 2 }\n  ]\n}\n"},
    {"append two in lines",
     "{\n  \"l\": [\n    { \"id\": 1 } // one\n  ]\n}\n",
     {{APPEND, "", "l", "2"}, {APPEND, "", "l", "3"}},
     "{\n  \"l\": [\n    { \"id\": 1 }, // one\n    { \"id\": 2 },\n    { \"id\": 3 }\n  ]\n}\n"},
    {"append one of lines",
     "{\n  \"l\": [\n    {\n      \"id\": 1\n    }\n  ]\n}\n",
     {{APPEND, "", "l", "2"}},
     "{\n  \"l\": [\n    {\n      \"id\": 1\n    },\n    {\n      \"id\": 2\n    }\n  ]\n}\n"},
    {"append to an empty list",
     "{\n  \"l\": []\n}\n",
     {{APPEND, "", "l", "2"}},
     "{\n  \"l\": [\n    { \"id\": 2 }\n  ]\n}\n"},
    {"append two to an empty list",
     "{\n  \"l\": [\n  ]\n}\n",
     {{APPEND, "", "l", "2"}, {APPEND, "", "l", "3"}},
     "{\n  \"l\": [\n    { \"id\": 2 },\n    { \"id\": 3 }\n  ]\n}\n"},
    {"append behind a comment",
     "{\n  \"l\": [ // none yet\n  ]\n}\n",
     {{APPEND, "", "l", "2"}},
     "{\n  \"l\": [ // none yet\n    { \"id\": 2 }\n  ]\n}\n"},
    {"append like another list's",
     "{\n  \"l\": [],\n  \"m\": [\n    {\"id\":1}\n  ]\n}\n",
     {{APPEND, "", "l", "2"}},
     "{\n  \"l\": [\n    {\"id\":2}\n  ],\n  \"m\": [\n    {\"id\":1}\n  ]\n}\n"},
    {"append to a list that is not there",
     "{\n  \"m\": [\n    { \"id\": 1 }\n  ] // m\n}\n",
     {{APPEND, "", "l", "2"}, {APPEND, "", "l", "3"}},
     "{\n  \"m\": [\n    { \"id\": 1 }\n  ], // m\n  \"l\": [\n    { \"id\": 2 },\n    "
     "{ \"id\": 3 }\n  ]\n}\n"},
    {"append to two such",
     "{ \"a\": 1 }",
     {{APPEND, "", "l", "2"}, {APPEND, "", "m", "3"}},
     "{ \"a\": 1, \"l\": [ { \"id\": 2 } ], \"m\": [ { \"id\": 3 } ] }"},
    {"append by tabs",
     "{\n\t\"l\": []\n}\n",
     {{APPEND, "", "l", "2"}},
     "{\n\t\"l\": [\n\t\t{ \"id\": 2 }\n\t]\n}\n"},
    {"append where one goes",
     "{\n  \"l\": [\n    { \"id\": 1 }\n  ]\n}\n",
     {GONE("l.0"), {APPEND, "", "l", "2"}},
     "{\n  \"l\": [\n    { \"id\": 2 }\n  ]\n}\n"},
};

static void changes_come_about_and_the_rest_stays(void **state)
{
    size_t wrong = 0;
    (void)state;
    for (size_t i = 0; i < COUNT_OF(rows); i++) {
        char *got = NULL;
        size_t length = 0;
        struct wf_error e = {0};
        if (change(&rows[i], &got, &length, &e) != WF_OK)
            fail_msg("%s: %s", rows[i].name, e.text);
        assert_int_equal(strlen(got), length);
        if (strcmp(got, rows[i].want) != 0) {
            print_error("%s:\n%s\nwant:\n%s\n", rows[i].name, got, rows[i].want);
            wrong++;
        }
        wf_free(got);
    }
    assert_int_equal(wrong, 0);
}

static enum wf_status change_again(void *data, struct wf_error *e)
{
    char *got = NULL;
    size_t length;
    enum wf_status status = change(data, &got, &length, e);
    assert_true((status == WF_OK) == (got != NULL));
    wf_free(got);
    return status;
}

static void running_out_of_memory_is_told(void **state)
{
    struct row row = {
        .text = "{\n  \"a\": 1, // x\n  \"b\": 2\n}\n",
        .steps = {{REPLACE, "a", NULL, "10"}, {REMOVE, "b", NULL, NULL}, {APPEND, "", "l", "3"}}};
    (void)state;
    check_out_of_memory(change_again, &row, 10, 1);
}

static void what_is_no_json_is_not_edited(void **state)
{
    const struct wf_json_source source = {"t.json", "{ \"a\": }", 8};
    struct wf_json_edit *edit;
    (void)state;
    assert_int_equal(wf_json_edit_open(&source, &edit, NULL), WF_BAD_INPUT);
    assert_null(edit);
}

static void plain_text_is_cut_at_its_room(void **state)
{
    static const char text[] = "{ \"a\": \"4\\u00e9 kg\", \"b\": 1.50 }";
    const struct wf_json_source source = {"t.json", text, strlen(text)};
    struct wf_json_edit *e;
    char out[16];
    (void)state;
    assert_int_equal(wf_json_edit_open(&source, &e, NULL), WF_OK);
    assert_string_equal(wf_json_edit_plain(e, find(e, "a"), out, sizeof out), "4\xC3\xA9 kg");
    assert_string_equal(wf_json_edit_plain(e, find(e, "a"), out, 2), "4");
    assert_string_equal(wf_json_edit_plain(e, find(e, "b"), out, sizeof out), "1.50");
    wf_json_edit_free(e);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(changes_come_about_and_the_rest_stays),
        cmocka_unit_test(running_out_of_memory_is_told),
        cmocka_unit_test(what_is_no_json_is_not_edited),
        cmocka_unit_test(plain_text_is_cut_at_its_room),
    };
    return cmocka_run_group_tests_name("json_edit", tests, NULL, NULL) != 0;
}
