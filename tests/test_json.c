/* The strict scan, places in a text, names, and reading by tables. */
#include "support/memory.h"
#include "support/test.h"

#include "base/file.h"
#include "base/text.h"
#include "pantry/fields.h"
#include "pantry/json_locate.h"
#include "pantry/json_place.h"
#include "pantry/json_scan.h"
#include "pantry/json_scanner.h"
#include "pantry/names.h"

#include <stdbool.h>

/* ---- What is accepted ------------------------------------------------------------------------ */

static const char *const accepted[] = {
    "{}",
    "[]",
    "0",
    "-0",
    "\"\"",
    "true",
    "null",
    " \t\r\n{ } \n",
    "\xEF\xBB\xBF{}",
    "{\"a\":1,\"b\":[1,2,{\"a\":1}],\"c\":{\"a\":1}}",
    "[0,-1,1.5,-1.5e3,1E5,1e+5,1e-5,0.0,123456789012345678901234567890]",
    "[1e-999, 1.7976931348623157e308]",
    "[\"\\\"\\\\\\/\\b\\f\\n\\r\\t\\u00e9\\uD83C\\uDF7A\"]",
    "[\"K\xC3\xB6lsch \xF0\x9F\x8D\xBA \x7F\"]",
    "// first\n{} // last",
    "/**/{/* a */\"a\"/* b */:/* c */1/* d */,/***/\"b\"/* * / */:2}/**/",
    "{\"a//b\": \"/* no comment */\"}",
    "{\"a\": 1 // one\r\n}",
    "{\"A\": 1, \"a\": 2, \"a \": 3}",
    "[true, false, null]",
};

static enum wf_status scan_copy(const char *text, size_t length, struct wf_json_fault *fault)
{
    char *copy = malloc(length + 1);
    assert_non_null(copy);
    memcpy(copy, text, length);
    enum wf_status status = wf_json_scan(copy, length, fault);
    free(copy);
    return status;
}

static void good_text_is_accepted(void **state)
{
    struct wf_json_fault fault;
    (void)state;
    for (size_t i = 0; i < COUNT_OF(accepted); i++)
        if (scan_copy(accepted[i], strlen(accepted[i]), &fault) != WF_OK)
            fail_msg("%s: %s at %zu", accepted[i], fault.reason, fault.offset);
}

static void comments_become_blanks_of_the_same_length(void **state)
{
    char text[] = "\xEF\xBB\xBF// one\r\n{/* two\n lines */\"a//\": \"/*\"}// end";
    struct wf_json_fault fault;
    (void)state;
    assert_int_equal(wf_json_scan(text, strlen(text), &fault), WF_OK);
    assert_string_equal(text, "         \r\n{      \n         \"a//\": \"/*\"}      ");
}

/* ---- Limits, at and one beyond --------------------------------------------------------------- */

/* head, count times the middle, tail */
static enum wf_status scan_repeated(const char *head, const char *middle, size_t count,
                                    const char *tail, struct wf_json_fault *fault)
{
    struct wf_text t = {0};
    wf_text_append(&t, head, strlen(head));
    for (size_t i = 0; i < count; i++)
        wf_text_append(&t, middle, strlen(middle));
    wf_text_append(&t, tail, strlen(tail));
    assert_false(t.failed);
    enum wf_status status = wf_json_scan(t.data, t.length, fault);
    wf_text_free(&t);
    return status;
}

static const struct {
    const char *head, *middle, *tail;
    size_t most; /* repetitions that are accepted */
    const char *reason;
} limit_row[] = {
    {"\"", "x", "\"", WF_JSON_STRING_MOST, "a text of 4097 bytes; at most 4096"},
    {"0.", "1", "", WF_JSON_NUMBER_MOST - 2, "a number of 61 characters; at most 60"},
    {"[0", ",0", "]", WF_JSON_VALUES_MOST - 2, "more than 1000000 values in one file"},
    {"[", " ", "]", WF_FILE_MOST - 2, "16777217 bytes; a file may have at most 16777216"},
};

static void limits_hold_exactly(void **state)
{
    struct wf_json_fault fault;
    (void)state;
    for (size_t i = 0; i < COUNT_OF(limit_row); i++) {
        const char *head = limit_row[i].head, *middle = limit_row[i].middle;
        const char *tail = limit_row[i].tail;
        size_t most = limit_row[i].most;
        assert_int_equal(scan_repeated(head, middle, most, tail, &fault), WF_OK);
        assert_int_equal(scan_repeated(head, middle, most + 1, tail, &fault), WF_BAD_INPUT);
        assert_string_equal(fault.reason, limit_row[i].reason);
    }
}

static void depth_is_limited_exactly(void **state)
{
    char text[2 * WF_JSON_DEPTH_MOST + 3];
    struct wf_json_fault fault;
    (void)state;
    for (size_t depth = WF_JSON_DEPTH_MOST; depth <= WF_JSON_DEPTH_MOST + 1; depth++) {
        memset(text, '[', depth);
        memset(text + depth, ']', depth);
        enum wf_status want = depth <= WF_JSON_DEPTH_MOST ? WF_OK : WF_BAD_INPUT;
        assert_int_equal(wf_json_scan(text, 2 * depth, &fault), want);
    }
    assert_int_equal(fault.offset, WF_JSON_DEPTH_MOST);
}

/* Keys of one object in a million values: looked up in constant time, or the test would not end. */
static void many_keys_are_compared_fast(void **state)
{
    struct wf_text t = {0};
    struct wf_json_fault fault;
    (void)state;
    wf_text_append(&t, "{", 1);
    for (int i = 0; i < 200000; i++)
        wf_text_add(&t, "\"key%d\":%d,", i, i);
    wf_text_add(&t, "\"key77\":0}");
    assert_int_equal(wf_json_scan(t.data, t.length, &fault), WF_BAD_INPUT);
    assert_string_equal(fault.reason,
                        "the key \"key77\" is given twice; the first is in this line");
    wf_text_free(&t);
}

/* ---- Names ----------------------------------------------------------------------------------- */

static void names_are_found_in_their_scope(void **state)
{
    static char text[5000][8];
    struct wf_names n = {0};
    const struct wf_name *old;
    (void)state;
    assert_null(wf_names_find(&n, 0, "a", 1));
    for (size_t i = 0; i < 5000; i++) {
        snprintf(text[i], sizeof text[i], "n%zu", i / 2);
        struct wf_name name = {text[i], strlen(text[i]), i % 2, i};
        assert_int_equal(wf_names_add(&n, name, &old), WF_OK);
        assert_null(old);
    }
    for (size_t i = 0; i < 5000; i++) {
        const struct wf_name *found = wf_names_find(&n, i % 2, text[i], strlen(text[i]));
        assert_non_null(found);
        assert_int_equal(found->value, i);
    }
    struct wf_name again = {"n7", 2, 1, 99};
    assert_int_equal(wf_names_add(&n, again, &old), WF_OK);
    assert_int_equal(old->value, 15);
    assert_null(wf_names_find(&n, 2, "n7", 2));
    assert_null(wf_names_find(&n, 0, "n70000", 6));
    wf_names_free(&n);
    assert_null(wf_names_find(&n, 0, "n7", 2));
}

static void escapes_are_decoded(void **state)
{
    static const char written[] = "\\\"\\\\\\/\\b\\f\\n\\r\\t\\u00e9\\u20AC\\uD83C\\uDF7Ax";
    static const char meant[] = "\"\\/\b\f\n\r\t\xC3\xA9\xE2\x82\xAC\xF0\x9F\x8D\xBAx";
    char out[sizeof written];
    (void)state;
    size_t length = wf_json_unescape(written, strlen(written), out);
    assert_int_equal(length, strlen(meant));
    assert_memory_equal(out, meant, length);
}

/* ---- Places ---------------------------------------------------------------------------------- */

static void places_count_code_points(void **state)
{
    static const char text[] = "\xEF\xBB\xBF"
                               "ab\nK\xC3\xB6l\r\nz";
    static const struct {
        size_t offset, line, column;
    } row[] = {{3, 1, 1}, {5, 1, 3}, {6, 2, 1}, {9, 2, 3}, {12, 3, 1}, {13, 3, 2}, {99, 3, 2}};
    (void)state;
    for (size_t i = 0; i < COUNT_OF(row); i++) {
        struct wf_json_place p = wf_json_place(text, strlen(text), row[i].offset);
        assert_int_equal(p.line, row[i].line);
        assert_int_equal(p.column, row[i].column);
    }
}

/* A text need not end in a NUL: nothing past its length is looked at. */
static void short_texts_are_not_read_past_their_end(void **state)
{
    static struct wf_error e;
    static const struct wf_json_table nothing = {0};
    (void)state;
    for (int byte = 0; byte < 256; byte++) {
        char *text = malloc(1);
        text[0] = (char)byte;
        const struct wf_json_source source = {"s", text, 1};
        wf_error_clear(&e);
        assert_int_equal(wf_json_read(&source, &nothing, NULL, NULL, NULL, &e), WF_BAD_INPUT);
        free(text);
    }
    const struct wf_json_source none = {"s", NULL, 0};
    assert_int_equal(wf_json_read(&none, &nothing, NULL, NULL, NULL, &e), WF_BAD_INPUT);
}

/* Any place in any line, valid UTF-8 or not, makes two lines that end with carets. */
static void carets_fit_their_room(void **state)
{
    char text[1000], caret[WF_JSON_CARET_MAX];
    static const char *const piece[] = {"\x80", "\xFF", "a", "\xC3\xB6", "\xF0\x9F\x8D\xBA", "\t"};
    (void)state;
    for (size_t k = 0; k < COUNT_OF(piece); k++) {
        size_t size = strlen(piece[k]), length = sizeof text / size * size;
        for (size_t i = 0; i < length; i++)
            text[i] = piece[k][i % size];
        for (size_t offset = 0; offset <= length; offset += size)
            for (size_t span = 0; span < 1200; span += 149) {
                wf_json_caret(text, length, offset, span, caret);
                const char *end = strrchr(caret, '\n');
                if (caret[0] == '\0' && (piece[k][0] == '\t' || offset == length))
                    continue;
                assert_non_null(end);
                assert_int_equal(caret[strlen(caret) - 1], '^');
            }
    }
}

static void values_are_located_by_their_way(void **state)
{
    static const char text[] = " { \"a\" : [ 1 , \"x,]}\\\"\" , { \"b\":{}, \"c\" :-1.5e3 } ] ,"
                               "\"d\":true}";
    static const struct {
        struct wf_json_way way;
        const char *key, *value;
    } row[] = {
        {{0, {0}}, "{ \"a\"", NULL},     {{1, {0}}, "\"a\"", NULL},
        {{2, {0, 0}}, "1", "1"},         {{2, {0, 1}}, "\"x,", "\"x,]}\\\"\""},
        {{3, {0, 2, 0}}, "\"b\"", "{}"}, {{3, {0, 2, 1}}, "\"c\"", "-1.5e3"},
        {{1, {1}}, "\"d\"", "true"},
    };
    (void)state;
    for (size_t i = 0; i < COUNT_OF(row); i++) {
        struct wf_json_spot s = wf_json_locate(text, strlen(text), &row[i].way);
        assert_memory_equal(text + s.key, row[i].key, strlen(row[i].key));
        if (!row[i].value)
            continue;
        assert_int_equal(s.end - s.value, strlen(row[i].value));
        assert_memory_equal(text + s.value, row[i].value, s.end - s.value);
    }
}

/* ---- Reading by a table ---------------------------------------------------------------------- */

struct inner {
    double figure;
};
struct outer {
    const char *text, *id;
    const char *const *ids;
    struct wf_range range;
    double kg, grams, plain;
    struct wf_json_list list;
    long date;
    int word, count;
    bool yes;
};

static const char *const colours[] = {"pale", "amber", "black", NULL};
static const struct wf_json_field inner_fields[] = {
    {WF_FIGURE("figure", struct inner, figure, NUMBER, 0, 9), .required = true}};
static const struct wf_json_table inner_table = {
    .fields = inner_fields, .field_count = 1, .size = sizeof(struct inner)};
#define AT(member, type) .offset = WF_JSON_AT(struct outer, member, type)
static const struct wf_json_field outer_fields[] = {
    {.key = "text", .read = wf_json_text, AT(text, const char *), .high = 8},
    {.key = "id", .read = wf_json_id, AT(id, const char *)},
    {.key = "ids", .read = wf_json_ids, AT(ids, const char *const *), .low = 1, .high = 3},
    {WF_WANTED("range", struct outer, range, SHARE, 0, 1, 0.01)},
    {WF_FIGURE("kg", struct outer, kg, MASS, 0.5, 10)},
    {WF_FIGURE("grams", struct outer, grams, MASS, 0, 10), .scale = 1000},
    {WF_FIGURE("plain", struct outer, plain, MASS, 0, 10), .scale = 1000, .plain = true},
    {.key = "list",
     .read = wf_json_list,
     AT(list, struct wf_json_list),
     .table = &inner_table,
     .low = 1,
     .high = 2},
    {.key = "date", .read = wf_json_date, AT(date, long)},
    {.key = "word", .read = wf_json_word, AT(word, int), .words = colours},
    {.key = "count", .read = wf_json_count, AT(count, int), .low = 1, .high = 5},
    {.key = "yes", .read = wf_json_bool, AT(yes, bool)},
};
static const struct wf_json_table outer_table = {.fields = outer_fields,
                                                 .field_count = COUNT_OF(outer_fields)};

struct reading {
    struct wf_arena *arena;
    struct outer out;
    struct wf_error error;
};

static enum wf_status read_outer(struct reading *r, const char *text)
{
    const struct wf_json_source source = {"f.json", text, strlen(text)};
    memset(r, 0, sizeof *r);
    r->arena = wf_arena_new();
    assert_non_null(r->arena);
    return wf_json_read(&source, &outer_table, NULL, r->arena, &r->out, &r->error);
}

static void each_kind_is_stored(void **state)
{
    static struct reading r;
    (void)state;
    assert_int_equal(read_outer(&r,
                                "{\"text\": \"K\xC3\xB6lsch\", \"id\": \"a-1\", \"ids\": \"b\","
                                "\"range\": \"5 %\", \"kg\": \"600 g\", \"grams\": \"1 oz\","
                                "\"plain\": 25, \"list\": [{\"figure\": 1}, {\"figure\": \"2.5\"}],"
                                "\"date\": \"1970-02-01\", \"word\": \"black\", \"count\": 5,"
                                "\"yes\": true}"),
                     WF_OK);
    assert_string_equal(r.out.text, "K\xC3\xB6lsch");
    assert_string_equal(r.out.id, "a-1");
    assert_string_equal(r.out.ids[0], "b");
    assert_null(r.out.ids[1]);
    assert_close(r.out.range.aim, 0.05, 1e-12);
    assert_close(r.out.range.low, 0.04, 1e-12);
    assert_close(r.out.kg, 0.6, 1e-12);
    assert_close(r.out.grams, 28.349523125, 1e-9);
    assert_close(r.out.plain, 25, 1e-12);
    assert_int_equal(r.out.list.count, 2);
    assert_close(((struct inner *)r.out.list.items)[1].figure, 2.5, 1e-12);
    assert_int_equal(r.out.date, 31);
    assert_int_equal(r.out.word, 2);
    assert_int_equal(r.out.count, 5);
    assert_true(r.out.yes);
    wf_arena_free(r.arena);
}

static void what_is_not_given_stays(void **state)
{
    static struct reading r;
    (void)state;
    assert_int_equal(read_outer(&r, "{}"), WF_OK);
    assert_null(r.out.text);
    assert_int_equal(r.out.count, 0);
    wf_arena_free(r.arena);
}

static const struct {
    const char *text, *message;
} refused_row[] = {
    {"[]", "f.json:1:1: read a list; needs an object, { ... }"},
    {"{\"text\": \"\"}", "f.json:1:10: text: read \"\"; needs a text of 1 to 8 bytes"},
    {"{\"text\": \"123456789\"}",
     "f.json:1:10: text: read \"123456789\"; needs a text of 1 to 8 bytes"},
    {"{\"text\": \"a\\u001bb\"}",
     "f.json:1:10: text: read \"a?b\"; holds a control character; write plain text"},
    {"{\"text\": \"\\u202e\"}",
     "f.json:1:10: text: read \"?\"; holds a control character; write plain text"},
    {"{\"text\": null}", "f.json:1:10: text: read null; needs a text in double quotes"},
    {"{\"id\": \"-a\"}", "f.json:1:8: id: read \"-a\"; an id has small letters, digits and single "
                         "hyphens, such as \"a\""},
    {"{\"id\": \"???\"}",
     "f.json:1:8: id: read \"???\"; an id has small letters, digits and single "
     "hyphens, such as \"house-malt\""},
    {"{\"ids\": []}", "f.json:1:9: ids: holds 0 entries; needs at least 1"},
    {"{\"ids\": [\"a\",\"b\",\"c\",\"d\"]}",
     "f.json:1:9: ids: holds 4 entries; at most 3 are read"},
    {"{\"ids\": [\"a\", 5]}", "f.json:1:15: ids[1]: read 5; needs a text in double quotes"},
    {"{\"ids\": {}}", "f.json:1:9: ids: read an object; needs a list of texts, such as [\"first\", "
                      "\"second\"]"},
    {"{\"kg\": \"499 g\"}", "f.json:1:8: kg: read \"499 g\"; must be from 500 g to 10 kg"},
    {"{\"kg\": \"-3 kg\"}",
     "f.json:1:8: kg: read \"-3 kg\"; a weight cannot be negative, write for "
     "example \"4.5 kg\""},
    {"{\"kg\": true}", "f.json:1:8: kg: read true; needs a weight, such as \"4.5 kg\""},
    {"{\"plain\": -1}", "f.json:1:11: plain: read -1; a weight cannot be negative, write for "
                        "example \"4.5 kg\""},
    {"{\"plain\": 10001}", "f.json:1:11: plain: read 10001; must be from 0 to 10000"},
    {"{\"list\": [{\"figure\": 10}]}", "f.json:1:22: list[0].figure: read 10; must be from 0 to 9"},
    {"{\"list\": [{}]}", "f.json:1:11: list[0]: needs \"figure\""},
    {"{\"list\": {}}", "f.json:1:10: list: read an object; needs a list, [ ... ]"},
    {"{\"list\": []}", "f.json:1:10: list: holds 0 entries; needs at least 1"},
    {"{\"date\": \"2026-02-30\"}", "f.json:1:10: date: read \"2026-02-30\"; needs a date as year, "
                                   "month and day, such as \"2026-03-01\""},
    {"{\"word\": \"ambr\"}", "f.json:1:10: word: read \"ambr\"; must be one of pale, amber, black; "
                             "the nearest is \"amber\""},
    {"{\"count\": 2.5}", "f.json:1:11: count: read 2.5; needs a whole number from 1 to 5"},
    {"{\"count\": 6}", "f.json:1:11: count: read 6; needs a whole number from 1 to 5"},
    {"{\"yes\": \"true\"}",
     "f.json:1:9: yes: read \"true\"; must be true or false, without quotes"},
    {"{\"texts\": 1}", "f.json:1:2: texts: unknown key; the nearest is \"text\""},
    {"{\n  \"zzzzzzzz\": 1 }",
     "f.json:2:3: zzzzzzzz: unknown key; known here: text, id, ids, range, kg, grams, plain, list, "
     "date, word, count, yes"},
    {"{\"text\": 1, \"id\": 2}", "f.json:1:10: text: read 1; needs a text in double quotes\n"
                                 "f.json:1:19: id: read 2; needs a text in double quotes"},
};

static void each_refusal_tells_place_and_remedy(void **state)
{
    static struct reading r;
    (void)state;
    for (size_t i = 0; i < COUNT_OF(refused_row); i++) {
        assert_int_equal(read_outer(&r, refused_row[i].text), WF_BAD_INPUT);
        assert_string_equal(r.error.text, refused_row[i].message);
        wf_arena_free(r.arena);
    }
}

/* ---- Memory ---------------------------------------------------------------------------------- */

static enum wf_status read_some(void *data, struct wf_error *e)
{
    static const char text[] =
        "{\"text\": \"a\", \"ids\": [\"b\", \"c\"], \"list\": [{\"f\\u0069gure\": 1}]}";
    const struct wf_json_source source = {"f.json", text, strlen(text)};
    struct outer out = {0};
    (void)data;
    struct wf_arena *arena = wf_arena_new();
    if (!arena)
        return wf_json_out_of_memory(&source, e);
    enum wf_status status = wf_json_read(&source, &outer_table, NULL, arena, &out, e);
    wf_arena_free(arena);
    return status;
}

static void running_out_of_memory_is_told(void **state)
{
    (void)state;
    check_out_of_memory(read_some, NULL, 20, 1);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(good_text_is_accepted),
        cmocka_unit_test(comments_become_blanks_of_the_same_length),
        cmocka_unit_test(limits_hold_exactly),
        cmocka_unit_test(depth_is_limited_exactly),
        cmocka_unit_test(many_keys_are_compared_fast),
        cmocka_unit_test(names_are_found_in_their_scope),
        cmocka_unit_test(escapes_are_decoded),
        cmocka_unit_test(places_count_code_points),
        cmocka_unit_test(short_texts_are_not_read_past_their_end),
        cmocka_unit_test(carets_fit_their_room),
        cmocka_unit_test(values_are_located_by_their_way),
        cmocka_unit_test(each_kind_is_stored),
        cmocka_unit_test(what_is_not_given_stays),
        cmocka_unit_test(each_refusal_tells_place_and_remedy),
        cmocka_unit_test(running_out_of_memory_is_told),
    };
    return cmocka_run_group_tests(tests, NULL, NULL) != 0;
}
