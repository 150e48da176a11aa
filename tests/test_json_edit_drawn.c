/* Drawn changes to drawn JSON texts, with comments and odd layouts, held against cJSON, which
 * changes a tree instead. */
#include "support/dice.h"
#include "support/test.h"

#include "base/alloc.h"
#include "base/text.h"
#include "pantry/json_edit.h"
#include "pantry/json_scan.h"

#include <cjson/cJSON.h>
#include <stdbool.h>

/* ---- Texts ----------------------------------------------------------------------------------- */

/* Blanks and comments, as people and editors leave them. */
static void draw_blank(struct dice *d, struct wf_text *t, long newline)
{
    static const char *const blanks[] = {"", " ", "  ", " /* c, \"a\": { */ ", "\t"};
    static const char *const breaks[] = {"\n", "\n    ", " // c ] } ,\n  ", "\n\t",
                                         " /* c\n , */ "};
    bool line = dice_chance(d, newline);
    wf_text_add(t, "%s", (line ? breaks : blanks)[dice_whole(d, 0, 4)]);
}

static void draw_scalar(struct dice *d, struct wf_text *t)
{
    static const char *const values[] = {"1",     "-2.5e3",        "true",        "null", "\"\"",
                                         "\"x\"", "\"\\\"],}//\"", "\"\\u00e9\"", "{}",   "[ ]"};
    wf_text_add(t, "%s", values[dice_whole(d, 0, 9)]);
}

static void draw_object(struct dice *d, struct wf_text *t, long newline)
{
    long members = dice_whole(d, 1, 5);
    wf_text_add(t, "{");
    for (long i = 0; i < members; i++) {
        wf_text_add(t, "%s", i > 0 ? "," : "");
        draw_blank(d, t, newline);
        wf_text_add(t, "\"k%ld\"", i);
        draw_blank(d, t, 5);
        wf_text_add(t, ":");
        draw_blank(d, t, 5);
        draw_scalar(d, t);
        draw_blank(d, t, i + 1 < members ? 3 : newline);
    }
    wf_text_add(t, "}");
}

/* An object of up to three lists of objects, and a scalar. */
static void draw_text(struct dice *d, struct wf_text *t)
{
    long newline = dice_whole(d, 0, 2) * 45, lists = dice_whole(d, 0, 3);
    wf_text_add(t, "{");
    draw_blank(d, t, newline);
    wf_text_add(t, "\"s\": 1");
    for (long l = 0; l < lists; l++) {
        long items = dice_whole(d, 0, 4);
        wf_text_add(t, ",");
        draw_blank(d, t, newline);
        wf_text_add(t, "\"l%ld\": [", l);
        for (long i = 0; i < items; i++) {
            wf_text_add(t, "%s", i > 0 ? "," : "");
            draw_blank(d, t, newline);
            draw_object(d, t, newline / 3);
            draw_blank(d, t, i + 1 < items ? 3 : newline);
        }
        wf_text_add(t, "]");
    }
    draw_blank(d, t, newline);
    wf_text_add(t, "}\n");
}

/* ---- Changes --------------------------------------------------------------------------------- */

/* The same on the text and on the tree: for each object of each list, members change, go and come;
 * or it goes whole; then new ones come. */
static void change_object(struct dice *d, struct wf_json_edit *e, size_t node, cJSON *object)
{
    for (long k = 0; k < 5; k++) {
        char key[8];
        snprintf(key, sizeof key, "k%ld", k);
        size_t member = wf_json_edit_member(e, node, key);
        assert_true((member != 0) == cJSON_HasObjectItem(object, key));
        if (member && dice_chance(d, 25)) {
            wf_json_edit_replace(e, member, "\"new\"");
            cJSON_ReplaceItemInObject(object, key, cJSON_CreateString("new"));
        } else if (member && dice_chance(d, 25)) {
            wf_json_edit_remove(e, member);
            cJSON_DeleteItemFromObject(object, key);
        } else if (!member && dice_chance(d, 25)) {
            wf_json_edit_add(e, node, (struct wf_json_member){key, "[1, 2]"});
            cJSON_AddItemToObject(object, key, cJSON_Parse("[1, 2]"));
        }
    }
}

static void append_object(struct wf_json_edit *e, const char *key, cJSON *root)
{
    static const struct wf_json_member members[] = {{"id", "\"x\""}, {"k0", "2"}};
    cJSON *object = cJSON_Parse("{\"id\":\"x\",\"k0\":2}");
    wf_json_edit_append(e, 0, key, members, COUNT_OF(members));
    if (!cJSON_HasObjectItem(root, key))
        cJSON_AddItemToObject(root, key, cJSON_CreateArray());
    cJSON_AddItemToArray(cJSON_GetObjectItemCaseSensitive(root, key), object);
}

static void change_list(struct dice *d, struct wf_json_edit *e, const char *key, cJSON *root)
{
    size_t list = wf_json_edit_member(e, 0, key);
    cJSON *items = cJSON_GetObjectItemCaseSensitive(root, key);
    int index = 0;
    size_t count = list ? wf_json_edit_node(e, list)->count : 0;
    for (size_t i = 0; i < count; i++) {
        size_t node = wf_json_edit_item(e, list, i);
        if (dice_chance(d, 20)) {
            wf_json_edit_remove(e, node);
            cJSON_DeleteItemFromArray(items, index);
            continue;
        }
        if (dice_chance(d, 50))
            change_object(d, e, node, cJSON_GetArrayItem(items, index));
        index++;
    }
    for (long i = dice_whole(d, -2, 2); i > 0; i--)
        append_object(e, key, root);
}

static cJSON *parse(const char *text, size_t length)
{
    struct wf_json_fault fault;
    char *copy = malloc(length + 1);
    memcpy(copy, text, length + 1);
    if (wf_json_scan(copy, length, &fault) != WF_OK)
        fail_msg("%s, at %zu of:\n%s", fault.reason, fault.offset, text);
    cJSON *tree = cJSON_ParseWithLength(copy, length);
    free(copy);
    assert_non_null(tree);
    return tree;
}

/* Members in their order too, which cJSON_Compare does not see. */
static void expect_same(const cJSON *got, const cJSON *want, const char *before, const char *after)
{
    char *got_text = cJSON_PrintUnformatted(got), *want_text = cJSON_PrintUnformatted(want);
    if (strcmp(got_text, want_text) != 0)
        fail_msg("from:\n%s\nto:\n%s\nbut that is\n%s\nnot\n%s", before, after, got_text,
                 want_text);
    cJSON_free(got_text);
    cJSON_free(want_text);
}

static void drawn_changes_are_those_of_a_tree(void **state)
{
    struct dice d = {20261125};
    (void)state;
    for (int run = 0; run < 20000; run++) {
        struct wf_text text = {0};
        struct wf_json_edit *e = NULL;
        char *got = NULL;
        size_t length = 0;
        draw_text(&d, &text);
        const struct wf_json_source source = {"drawn", text.data, text.length};
        cJSON *tree = parse(text.data, text.length);
        assert_int_equal(wf_json_edit_open(&source, &e, NULL), WF_OK);
        static const char *const lists[] = {"l0", "l1", "l2"};
        for (size_t l = 0; l < COUNT_OF(lists); l++)
            if (dice_chance(&d, 70))
                change_list(&d, e, lists[l], tree);
        assert_int_equal(wf_json_edit_finish(e, &got, &length, NULL), WF_OK);
        cJSON *after = parse(got, length);
        expect_same(after, tree, text.data, got);
        cJSON_Delete(after);
        cJSON_Delete(tree);
        wf_json_edit_free(e);
        wf_free(got);
        wf_text_free(&text);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(drawn_changes_are_those_of_a_tree),
    };
    return cmocka_run_group_tests_name("json_edit_drawn", tests, NULL, NULL) != 0;
}
