/* Changes to a store: each is the one that was asked for, or is refused with its place. */
#include "support/memory.h"
#include "support/test.h"

#include "wortfit/solve.h"
#include "wortfit/stock.h"

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

/* ---- One change of a small store ------------------------------------------------------------- */

#define STORE                                                                                      \
    "// mine\n{\n  \"store\": \"s\",\n  \"malts\": [\n"                                            \
    "    { \"id\": \"pilsner-malt\", \"have\": \"5 kg\", \"packed\": \"2026-03-01\" }, // a "      \
    "sack\n"                                                                                       \
    "    { \"id\": \"house\", \"is\": \"crystal-60\", \"have\": \"900 g\" }\n  ],\n"               \
    "  \"hops\": [\n    { \"id\": \"house\", \"is\": \"cascade\" } // no end of it\n  ]\n}\n"

#define FIELDS(...)                                                                                \
    (const struct wf_stock_field[])                                                                \
    {                                                                                              \
        __VA_ARGS__                                                                                \
    }
#define ONE(key, text) FIELDS({key, text, "at " key}), 1

struct asked {
    const char *name;
    struct wf_stock_change change;
    const char *from,
        *to; /* the piece of the text that is another afterwards; from NULL: an error */
};

static const struct asked asked_row[] = {
    {"set",
     {WF_STOCK_SET, WF_KIND_COUNT, "pilsner-malt", NULL, ONE("have", "4 kg"), NULL, NULL},
     "\"5 kg\"",
     "\"4 kg\""},
    {"set a new key",
     {WF_STOCK_SET, WF_KIND_COUNT, "pilsner-malt", NULL, ONE("price", "2/kg"), NULL, NULL},
     "\"2026-03-01\" }",
     "\"2026-03-01\", \"price\": \"2/kg\" }"},
    {"take a key out",
     {WF_STOCK_SET, WF_KIND_COUNT, "pilsner-malt", NULL, ONE("packed", ""), NULL, NULL},
     ", \"packed\": \"2026-03-01\" }",
     " }"},
    {"take out what is not there",
     {WF_STOCK_SET, WF_KIND_COUNT, "pilsner-malt", NULL, ONE("opened", ""), NULL, NULL},
     "",
     ""},
    {"give a new name",
     {WF_STOCK_SET, WF_KIND_HOP, "house", NULL, ONE("id", "garden"), NULL, NULL},
     "\"id\": \"house\", \"is\": \"cascade\"",
     "\"id\": \"garden\", \"is\": \"cascade\""},
    {"put one that is there",
     {WF_STOCK_PUT, WF_KIND_MALT, "house", NULL, ONE("have", "1 lb"), NULL, NULL},
     "\"900 g\"",
     "\"1 lb\""},
    {"put a new one",
     {WF_STOCK_PUT, WF_KIND_COUNT, "black-malt", NULL, ONE("have", "1 lb"), NULL, NULL},
     "\"900 g\" }\n",
     "\"900 g\" },\n    { \"id\": \"black-malt\", \"have\": \"1 lb\" }\n"},
    {"add to a list that is not there",
     {WF_STOCK_ADD, WF_KIND_COUNT, "irish-ale", NULL, ONE("have", "1"), NULL, NULL},
     "end of it\n  ]\n",
     "end of it\n  ],\n  \"yeasts\": [\n    { \"id\": \"irish-ale\", \"have\": 1 }\n  ]\n"},
    {"add behind a comment",
     {WF_STOCK_ADD, WF_KIND_COUNT, "citra", NULL, NULL, 0, NULL, NULL},
     " } // no end of it\n",
     " }, // no end of it\n    { \"id\": \"citra\" }\n"},
    {"the entry comes behind the id",
     {WF_STOCK_ADD, WF_KIND_COUNT, "mine", NULL,
      FIELDS({"have", "3 g", NULL}, {"is", "citra", NULL}), 2, NULL, NULL},
     " } // no end of it\n",
     " }, // no end of it\n    { \"id\": \"mine\", \"is\": \"citra\", \"have\": \"3 g\" }\n"},
    {"use",
     {WF_STOCK_USE, WF_KIND_COUNT, "pilsner-malt", NULL, NULL, 0, "250 g", NULL},
     "\"5 kg\"",
     "\"4.75 kg\""},
    {"use up",
     {WF_STOCK_USE, WF_KIND_MALT, "house", NULL, NULL, 0, "900 g", NULL},
     "\"900 g\"",
     "\"0 g\""},
    {"remove",
     {WF_STOCK_REMOVE, WF_KIND_COUNT, "pilsner-malt", NULL, NULL, 0, NULL, NULL},
     "    { \"id\": \"pilsner-malt\", \"have\": \"5 kg\", \"packed\": \"2026-03-01\" }, // a "
     "sack\n",
     ""},

    {"two kinds",
     {WF_STOCK_SET, WF_KIND_COUNT, "house", NULL, ONE("have", "4 kg"), NULL, NULL},
     NULL,
     "house: a malt and a hop are called \"house\"; give the kind"},
    {"set nobody",
     {WF_STOCK_SET, WF_KIND_COUNT, "pilsner-mlat", "x.csv:3:1", ONE("have", "4 kg"), NULL, NULL},
     NULL,
     "x.csv:3:1: no lot of the store is called \"pilsner-mlat\"; the nearest is \"pilsner-malt\""},
    {"set a yeast",
     {WF_STOCK_SET, WF_KIND_YEAST, "house", NULL, ONE("have", "4"), NULL, NULL},
     NULL,
     "house: no yeast of the store is called \"house\"; the nearest is \"house\""},
    {"set no such key",
     {WF_STOCK_SET, WF_KIND_HOP, "house", NULL, ONE("colour", "4"), NULL, NULL},
     NULL,
     "at colour: a hop has no \"colour\""},
    {"take out no such key",
     {WF_STOCK_SET, WF_KIND_HOP, "house", NULL, ONE("apha", ""), NULL, NULL},
     NULL,
     "at apha: a hop has no \"apha\"; the nearest is \"alpha\""},
    {"set what is wrong",
     {WF_STOCK_SET, WF_KIND_HOP, "house", NULL, ONE("have", "4"), NULL, NULL},
     NULL,
     "at have: read \"4\", which needs a unit: write \"4 kg\", \"4 g\", \"4 lb\" or \"4 oz\""},
    {"set against another key",
     {WF_STOCK_SET, WF_KIND_COUNT, "pilsner-malt", NULL, ONE("opened", "2026-02-01"), NULL, NULL},
     NULL,
     "at opened: is before \"packed\""},
    {"take the id out",
     {WF_STOCK_SET, WF_KIND_COUNT, "pilsner-malt", NULL, ONE("id", ""), NULL, NULL},
     NULL,
     "pilsner-malt: needs \"id\""},
    {"take the entry out",
     {WF_STOCK_SET, WF_KIND_HOP, "house", NULL, ONE("is", ""), NULL, NULL},
     NULL,
     "house: no hop \"house\" is in the catalogue; give \"is\", the entry that it is, or else "
     "alpha"},
    {"a score that is none",
     {WF_STOCK_SET, WF_KIND_HOP, "house", NULL, ONE("character", "citrus 9"), NULL, NULL},
     NULL,
     "at character: read 9; must be from 0 to 5"},
    {"add twice",
     {WF_STOCK_ADD, WF_KIND_COUNT, "pilsner-malt", NULL, NULL, 0, NULL, NULL},
     NULL,
     "pilsner-malt: \"pilsner-malt\" is in the store already, as malts[0]; set that one, or give "
     "this "
     "one a name of its own, with \"is\" for the catalogue's"},
    {"add what nobody knows",
     {WF_STOCK_ADD, WF_KIND_COUNT, "pilsner-mlat", NULL, NULL, 0, NULL, NULL},
     NULL,
     "pilsner-mlat: no malt, hop or yeast \"pilsner-mlat\" is in the catalogue; the nearest is "
     "\"pilsner-malt\"; give \"is\", the entry that it is, or else its kind and all its figures"},
    {"add half of what is needed",
     {WF_STOCK_ADD, WF_KIND_MALT, "odd", NULL, ONE("colour", "4 Lov"), NULL, NULL},
     NULL,
     "odd: no malt \"odd\" is in the catalogue; give \"is\", the entry that it is, or else class, "
     "extract and moisture (or potential)"},
    {"add a bad id",
     {WF_STOCK_ADD, WF_KIND_COUNT, "Citra 2", NULL, ONE("is", "citra"), NULL, NULL},
     NULL,
     "Citra 2: read \"Citra 2\"; an id has small letters, digits and single hyphens, such as "
     "\"citra-2\""},
    {"use too much",
     {WF_STOCK_USE, WF_KIND_MALT, "house", NULL, NULL, 0, "1 kg", "at take"},
     NULL,
     "at take: 1 kg is more than is there: 900 g"},
    {"use of what has no end",
     {WF_STOCK_USE, WF_KIND_HOP, "house", NULL, NULL, 0, "1 g", NULL},
     NULL,
     "house: no amount of this lot is kept (it has no \"have\"); set that first"},
    {"use nothing",
     {WF_STOCK_USE, WF_KIND_MALT, "house", NULL, NULL, 0, NULL, NULL},
     NULL,
     "house: how much is taken?"},
    {"not UTF-8",
     {WF_STOCK_SET, WF_KIND_MALT, "house", NULL, ONE("note", "\xE9"), NULL, NULL},
     NULL,
     "at note: is no text in UTF-8"},
    {"a key twice",
     {WF_STOCK_SET, WF_KIND_MALT, "house", NULL,
      FIELDS({"have", "1 g", NULL}, {"have", "2 g", "again"}), 2, NULL, NULL},
     NULL,
     "again: is given twice"},
    {"a new lot's key twice",
     {WF_STOCK_ADD, WF_KIND_MALT, "black-malt", NULL,
      FIELDS({"have", "1 g", NULL}, {"have", "2 g", "again"}), 2, NULL, NULL},
     NULL,
     "again: is given twice"},
};

/* STORE with the piece `from` in it replaced. */
static char *expected(const struct asked *a)
{
    static char out[4096];
    const char *at = strstr(STORE, a->from);
    assert_non_null(at);
    snprintf(out, sizeof out, "%.*s%s%s", (int)(at - STORE), STORE, a->to, at + strlen(a->from));
    return out;
}

static void one_change_is_made_or_refused(void **state)
{
    (void)state;
    for (size_t i = 0; i < COUNT_OF(asked_row); i++) {
        const struct asked *a = &asked_row[i];
        static struct wf_error e;
        char *got = NULL;
        size_t length = 0;
        struct wf_stock_outcome outcome;
        wf_error_clear(&e);
        enum wf_status status = wf_stock_edit("s.json", STORE, strlen(STORE), catalogue, &a->change,
                                              1, &got, &length, &outcome, &e);
        assert_int_equal(status, a->from ? WF_OK : WF_BAD_INPUT);
        if (strcmp(a->from ? got : e.text, a->from ? expected(a) : a->to) != 0)
            fail_msg("%s:\n%s\nwant:\n%s", a->name, a->from ? got : e.text,
                     a->from ? expected(a) : a->to);
        assert_true(!got || strlen(got) == length);
        wf_text_release(got);
    }
}

/* ---- Several at once ------------------------------------------------------------------------- */

static void all_is_told_and_nothing_done(void **state)
{
    static const struct wf_stock_field have = {"have", "1", "b"}, bad = {"hav", "1 kg", "c"};
    static const struct wf_stock_change changes[] = {
        {WF_STOCK_SET, WF_KIND_COUNT, "nobody", "a", &have, 1, NULL, NULL},
        {WF_STOCK_SET, WF_KIND_COUNT, "pilsner-malt", NULL, &have, 1, NULL, NULL},
        {WF_STOCK_ADD, WF_KIND_COUNT, "citra", NULL, &bad, 1, NULL, NULL},
        {WF_STOCK_SET, WF_KIND_MALT, "pilsner-malt", "d", &have, 1, NULL, NULL},
        {WF_STOCK_USE, WF_KIND_MALT, "house", "e", NULL, 0, "9 kg", NULL},
    };
    static struct wf_error e;
    char *got = NULL;
    size_t length;
    (void)state;
    wf_error_clear(&e);
    assert_int_equal(wf_stock_edit("s.json", STORE, strlen(STORE), catalogue, changes,
                                   COUNT_OF(changes), &got, &length, NULL, &e),
                     WF_BAD_INPUT);
    assert_null(got);
    assert_string_equal(
        e.text, "a: no lot of the store is called \"nobody\"\n"
                "d: \"pilsner-malt\" stood before, at pilsner-malt; give each lot once\n"
                "c: a hop has no \"hav\"; the nearest is \"have\"\n"
                "e: 9 kg is more than is there: 900 g\n"
                "b: read \"1\", which needs a unit: write \"1 kg\", \"1 g\", \"1 lb\" or \"1 oz\"");
}

static void a_bad_store_is_told_as_such(void **state)
{
    static const char text[] = "{ \"store\": \"s\", \"malts\": [ { \"id\": \"pilsner-malt\", "
                               "\"have\": 5 } ] }";
    static const struct wf_stock_field have = {"have", "1 kg", NULL};
    static const struct wf_stock_change c = {
        WF_STOCK_SET, WF_KIND_MALT, "pilsner-malt", NULL, &have, 1, NULL, NULL};
    static struct wf_error e;
    char *got;
    size_t length;
    (void)state;
    wf_error_clear(&e);
    assert_int_equal(
        wf_stock_edit("s.json", text, strlen(text), catalogue, &c, 1, &got, &length, NULL, &e),
        WF_BAD_INPUT);
    assert_non_null(strstr(e.text, "s.json:1:60: malts[0].have: read 5, which needs a unit"));
    assert_int_equal(e.count, 1);
}

static void outcomes_say_where_lots_are(void **state)
{
    const struct wf_stock_change changes[] = {
        {WF_STOCK_REMOVE, WF_KIND_COUNT, "pilsner-malt", NULL, NULL, 0, NULL, NULL},
        {WF_STOCK_USE, WF_KIND_MALT, "house", NULL, NULL, 0, "1 g", NULL},
        {WF_STOCK_PUT, WF_KIND_COUNT, "black-malt", NULL, NULL, 0, NULL, NULL},
        {WF_STOCK_ADD, WF_KIND_COUNT, "irish-ale", NULL, NULL, 0, NULL, NULL},
        {WF_STOCK_SET, WF_KIND_HOP, "house", NULL, ONE("is", "cascade"), NULL, NULL},
    };
    static const struct wf_stock_outcome want[] = {{WF_KIND_MALT, 0, false, false},
                                                   {WF_KIND_MALT, 0, false, false},
                                                   {WF_KIND_MALT, 1, true, false},
                                                   {WF_KIND_YEAST, 0, true, false},
                                                   {WF_KIND_HOP, 0, false, true}};
    struct wf_stock_outcome got[COUNT_OF(changes)];
    char *text = NULL;
    size_t length;
    (void)state;
    assert_int_equal(wf_stock_edit("s.json", STORE, strlen(STORE), catalogue, changes,
                                   COUNT_OF(changes), &text, &length, got, NULL),
                     WF_OK);
    for (size_t i = 0; i < COUNT_OF(want); i++) {
        assert_int_equal(got[i].kind, want[i].kind);
        assert_int_equal(got[i].index, want[i].index);
        assert_int_equal(got[i].added, want[i].added);
        assert_int_equal(got[i].same, want[i].same);
    }
    wf_text_release(text);
}

/* ---- Memory ---------------------------------------------------------------------------------- */

static const char table_text[] = "id;kind;have;character\npilsner-malt;;4 kg;\nirish-ale;;1;\n"
                                 "citra;hop;\"3 g\";citrus 5, tropical 4\nblack-malt;malt;1 g;\n";

static enum wf_status import_again(void *data, struct wf_error *e)
{
    struct wf_stock_changes *s = NULL;
    char *got = NULL;
    size_t length;
    (void)data;
    enum wf_status status = wf_stock_read_csv("t.csv", table_text, strlen(table_text), &s, e);
    assert_true((status == WF_OK) == (s != NULL));
    if (status == WF_OK)
        status = wf_stock_edit("s.json", STORE, strlen(STORE), catalogue, s->changes, s->count,
                               &got, &length, NULL, e);
    assert_true((status == WF_OK) == (got != NULL));
    wf_text_release(got);
    wf_stock_changes_free(s);
    return status;
}

static void running_out_of_memory_is_told(void **state)
{
    (void)state;
    check_out_of_memory(import_again, NULL, 100, 7);
}

/* Refusals name the nearest, for which memory may run out; they are told without it then. */
static void refusals_survive_want_of_memory(void **state)
{
    static const struct wf_stock_change c = {
        .deed = WF_STOCK_SET, .kind = WF_KIND_COUNT, .id = "pilsner-mlat"};
    (void)state;
    for (long n = 0;; n++) {
        static struct wf_error e;
        char *got = NULL;
        size_t length;
        wf_error_clear(&e);
        wf_alloc_fail_at(n);
        enum wf_status status = wf_stock_edit("s.json", STORE, strlen(STORE), catalogue, &c, 1,
                                              &got, &length, NULL, &e);
        long made = wf_alloc_count();
        wf_alloc_fail_at(-1);
        assert_true(status == WF_MEMORY || status == WF_BAD_INPUT);
        assert_null(got);
        assert_true(e.count > 0);
        if (made <= n)
            break;
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(one_change_is_made_or_refused),
        cmocka_unit_test(all_is_told_and_nothing_done),
        cmocka_unit_test(a_bad_store_is_told_as_such),
        cmocka_unit_test(outcomes_say_where_lots_are),
        cmocka_unit_test(running_out_of_memory_is_told),
        cmocka_unit_test(refusals_survive_want_of_memory),
    };
    return cmocka_run_group_tests_name("stock", tests, set_up, tear_down) != 0;
}
