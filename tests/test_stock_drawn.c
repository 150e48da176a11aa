/* Drawn changes to the stores of the examples, large tables, and what a recipe takes. */
#include "support/dice.h"
#include "support/golden.h"
#include "support/memory.h"
#include "support/test.h"

#include "base/text.h"
#include "pantry/json_scan.h"
#include "wortfit/solve.h"
#include "wortfit/stock.h"

#include <cjson/cJSON.h>
#include <stdbool.h>

static struct wf_catalogue *catalogue;

static int set_up(void **state)
{
    (void)state;
    return wf_catalogue_read(&catalogue, NULL) == WF_OK ? 0 : -1;
}

static int tear_down(void **state)
{
    (void)state;
    wf_catalogue_free(catalogue);
    return 0;
}

/* ---- Drawn changes of the examples' stores --------------------------------------------------- */

static cJSON *parse(const char *text, size_t length)
{
    struct wf_json_fault fault;
    char *copy = malloc(length + 1);
    memcpy(copy, text, length + 1);
    assert_int_equal(wf_json_scan(copy, length, &fault), WF_OK);
    cJSON *tree = cJSON_ParseWithLength(copy, length);
    free(copy);
    assert_non_null(tree);
    return tree;
}

static void set_member(cJSON *lot, const char *key, cJSON *value)
{
    if (cJSON_HasObjectItem(lot, key))
        cJSON_ReplaceItemInObject(lot, key, value);
    else
        cJSON_AddItemToObject(lot, key, value);
}

/* Every comment of `before` is in `after`, in the same order. */
static void expect_comments(const char *before, const char *after)
{
    bool inside = false;
    const char *at = after;
    for (const char *p = before; *p; p++) {
        if (*p == '"' && p[-1] != '\\')
            inside = !inside;
        if (inside || p[0] != '/' || p[1] != '/')
            continue;
        char comment[256];
        size_t length = strcspn(p, "\n");
        assert_true(length < sizeof comment);
        memcpy(comment, p, length);
        comment[length] = '\0';
        at = strstr(at, comment);
        if (!at)
            fail_msg("the comment '%s' is lost", comment);
        at += length;
        p += length - 1;
    }
}

/* One drawn change to the tree of a store, and the same as a change for wf_stock_edit. */
struct drawn {
    struct wf_stock_change change;
    struct wf_stock_field field;
    char id[64], text[32];
};

static const char *const list_key[] = {"malts", "hops", "yeasts"};
static const char *const entry[] = {"crystal-60", "cascade", "irish-ale"};

static void draw_change(struct dice *d, cJSON *store, struct drawn *out)
{
    enum wf_kind kind = (enum wf_kind)dice_whole(d, 0, 2);
    cJSON *list = cJSON_GetObjectItemCaseSensitive(store, list_key[kind]);
    cJSON *lot = cJSON_GetArrayItem(list, (int)dice_whole(d, 0, cJSON_GetArraySize(list) - 1));
    const char *id = cJSON_GetObjectItemCaseSensitive(lot, "id")->valuestring;
    long amount = dice_whole(d, 1, 9999), n = dice_whole(d, 1, 99999999);
    snprintf(out->id, sizeof out->id, "%s", id);
    out->field = (struct wf_stock_field){"note", out->text, NULL};
    out->change = (struct wf_stock_change){
        .deed = WF_STOCK_SET, .kind = kind, .id = out->id, .fields = &out->field, .field_count = 1};
    snprintf(out->text, sizeof out->text, kind == WF_KIND_YEAST ? "%ld" : "%ld g", amount);
    switch (dice_whole(d, 0, 3)) {
    case 0: /* a new amount */
        out->field.key = "have";
        set_member(lot, "have",
                   kind == WF_KIND_YEAST ? cJSON_CreateNumber((double)amount)
                                         : cJSON_CreateString(out->text));
        break;
    case 1: /* a note, new or not */
        set_member(lot, "note", cJSON_CreateString(out->text));
        break;
    case 2: /* no price any more */
        out->field.key = "price";
        out->text[0] = '\0';
        cJSON_DeleteItemFromObject(lot, "price");
        break;
    default: /* a lot of its own */
        out->change.deed = WF_STOCK_ADD;
        out->field = (struct wf_stock_field){"is", out->text, NULL};
        snprintf(out->text, sizeof out->text, "%s", entry[kind]);
        snprintf(out->id, sizeof out->id, "own-%ld", n);
        cJSON *own = cJSON_CreateObject();
        cJSON_AddItemToObject(own, "id", cJSON_CreateString(out->id));
        cJSON_AddItemToObject(own, "is", cJSON_CreateString(out->text));
        cJSON_AddItemToArray(list, own);
    }
}

static void expect_tree(const char *text, size_t length, const cJSON *want)
{
    cJSON *got = parse(text, length);
    char *got_text = cJSON_Print(got), *want_text = cJSON_Print(want);
    assert_string_equal(got_text, want_text);
    cJSON_free(got_text);
    cJSON_free(want_text);
    cJSON_Delete(got);
}

/* A hundred changes after each other; after each the whole store is what a tree that was changed by
 * itself is, so every other lot is what it was, and no comment is gone. */
static void change_on_and_on(const char *path, uint64_t seed)
{
    struct dice d = {seed};
    size_t length;
    char *text = golden_read(WF_SOURCE_DIR, path, &length);
    assert_non_null(text);
    char *now = wf_alloc(length + 1, 1);
    memcpy(now, text, length);
    cJSON *tree = parse(text, length);
    for (int n = 0; n < 100; n++) {
        static struct wf_error e;
        struct drawn drawn;
        char *after = NULL;
        draw_change(&d, tree, &drawn);
        wf_error_clear(&e);
        if (wf_stock_edit(path, now, length, catalogue, &drawn.change, 1, &after, &length, NULL,
                          &e) != WF_OK)
            fail_msg("%s, change %d: %s", path, n, e.text);
        expect_tree(after, length, tree);
        expect_comments(text, after);
        wf_text_release(now);
        now = after;
    }
    wf_text_release(now);
    cJSON_Delete(tree);
    free(text);
}

static void drawn_changes_touch_nothing_else(void **state)
{
    (void)state;
    for (uint64_t seed = 1; seed <= 10; seed++) {
        change_on_and_on("examples/alder-lane-cellar.json", seed);
        change_on_and_on("examples/small-cellar.json", seed);
        change_on_and_on("examples/us-homebrew-corner.json", seed);
        change_on_and_on("examples/well-stocked-shop.json", seed);
    }
}

static const char store_text[] =
    "{\n  \"store\": \"s\",\n  \"malts\": [\n    { \"id\": \"pilsner-malt\" }\n  ]\n}\n";

/* ---- Many lots ------------------------------------------------------------------------------- */

static void large_tables_are_imported(void **state)
{
    struct wf_text table = {0};
    struct wf_stock_changes *s = NULL;
    static struct wf_error e;
    char *got = NULL;
    size_t length = 0;
    (void)state;
    wf_text_add(&table, "id,is,have,price,note\n");
    for (int i = 0; i < WF_LOTS_MOST - 1; i++)
        wf_text_add(&table, "lot-%d,crystal-60,%d g,2.5/kg,\"a, b\"\n", i, i);
    assert_int_equal(wf_stock_read_csv("t.csv", table.data, table.length, &s, &e), WF_OK);
    for (int round = 0; round < 2; round++) { /* they are added, then set */
        char *from = got;
        size_t from_length = length;
        if (wf_stock_edit("s.json", from ? from : store_text,
                          from ? from_length : sizeof store_text - 1, catalogue, s->changes,
                          s->count, &got, &length, NULL, &e) != WF_OK)
            fail_msg("%s", e.text);
        assert_true(!from || (length == from_length && memcmp(from, got, length) == 0));
        wf_text_release(from);
    }
    wf_text_release(got);
    wf_stock_changes_free(s);
    wf_text_free(&table);
}

/* ---- Recipes --------------------------------------------------------------------------------- */

static const char recipe_text[] =
    "{ \"recipe\": \"r\", \"batch_l\": 20,"
    "  \"malts\": [ { \"id\": \"pilsner-malt\", \"kg\": 4.2 }, { \"id\": \"crystal-60\", \"kg\": "
    "0.1 },"
    "               { \"id\": \"pilsner-malt\", \"kg\": 0.25 } ],"
    "  \"hops\": [ { \"id\": \"cascade\", \"g\": 20, \"use\": \"boil\", \"minutes\": 60 },"
    "              { \"id\": \"citra\", \"g\": 0, \"use\": \"boil\", \"minutes\": 10 },"
    "              { \"id\": \"cascade\", \"g\": 12.5, \"use\": \"boil\", \"minutes\": 5 } ],"
    "  \"yeast\": { \"id\": \"irish-ale\" } }";

static void a_recipe_takes_each_lot_once(void **state)
{
    static const struct {
        enum wf_kind kind;
        const char *id, *take;
    } want[] = {{WF_KIND_MALT, "pilsner-malt", "4.45 kg"},
                {WF_KIND_MALT, "crystal-60", "0.1 kg"},
                {WF_KIND_HOP, "cascade", "32.5 g"},
                {WF_KIND_YEAST, "irish-ale", "1"}};
    struct wf_recipe *r = NULL;
    struct wf_stock_changes *s = NULL;
    static struct wf_error e;
    (void)state;
    if (wf_recipe_parse("r.json", recipe_text, strlen(recipe_text), NULL, catalogue, &r, &e) !=
        WF_OK)
        fail_msg("%s", e.text);
    assert_int_equal(wf_stock_use_recipe(r, &s, &e), WF_OK);
    assert_int_equal(s->count, COUNT_OF(want));
    for (size_t i = 0; i < s->count; i++) {
        assert_int_equal(s->changes[i].deed, WF_STOCK_USE);
        assert_int_equal(s->changes[i].kind, want[i].kind);
        assert_string_equal(s->changes[i].id, want[i].id);
        assert_string_equal(s->changes[i].take, want[i].take);
    }
    wf_stock_changes_free(s);
    wf_recipe_free(r);
}

static enum wf_status use_again(void *data, struct wf_error *e)
{
    struct wf_stock_changes *s = NULL;
    enum wf_status status = wf_stock_use_recipe(data, &s, e);
    wf_stock_changes_free(s);
    return status;
}

static void running_out_of_memory_is_told(void **state)
{
    struct wf_recipe *r = NULL;
    (void)state;
    assert_int_equal(
        wf_recipe_parse("r.json", recipe_text, strlen(recipe_text), NULL, catalogue, &r, NULL),
        WF_OK);
    check_out_of_memory(use_again, r, 2, 1);
    wf_recipe_free(r);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(drawn_changes_touch_nothing_else),
        cmocka_unit_test(large_tables_are_imported),
        cmocka_unit_test(a_recipe_takes_each_lot_once),
        cmocka_unit_test(running_out_of_memory_is_told),
    };
    return cmocka_run_group_tests_name("stock_drawn", tests, set_up, tear_down) != 0;
}
