/* Readers under stress: damaged files, no memory, many lots, several threads; and their tables. */
#include "support/dice.h"
#include "support/golden.h"
#include "support/memory.h"
#include "support/test.h"

#include "base/text.h"
#include "pantry/ingredient.h"
#include "pantry/tables.h"
#include "wortfit/pantry.h"

#include <pthread.h>
#include <stdbool.h>
#include <time.h>

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
    catalogue = NULL;
    return 0;
}

/* ---- One file of each kind ------------------------------------------------------------------- */

typedef enum wf_status reader(const char *text, size_t length, struct wf_error *e);

static enum wf_status read_store(const char *text, size_t length, struct wf_error *e)
{
    struct wf_store *s;
    enum wf_status status = wf_store_parse("f", text, length, catalogue, &s, e);
    assert_true((status == WF_OK) == (s != NULL));
    wf_store_free(s);
    return status;
}

static enum wf_status read_brewhouse(const char *text, size_t length, struct wf_error *e)
{
    struct wf_brewhouse *b;
    enum wf_status status = wf_brewhouse_parse("f", text, length, WF_UNITS_US, &b, e);
    assert_true((status == WF_OK) == (b != NULL));
    wf_brewhouse_free(b);
    return status;
}

static enum wf_status read_target(const char *text, size_t length, struct wf_error *e)
{
    struct wf_target *t;
    enum wf_status status = wf_target_parse("f", text, length, catalogue, &t, e);
    assert_true((status == WF_OK) == (t != NULL));
    wf_target_free(t);
    return status;
}

static enum wf_status read_recipe(const char *text, size_t length, struct wf_error *e)
{
    struct wf_recipe *r;
    enum wf_status status = wf_recipe_parse("f", text, length, NULL, catalogue, &r, e);
    assert_true((status == WF_OK) == (r != NULL));
    wf_recipe_free(r);
    return status;
}

static struct example {
    const char *path;
    reader *read;
} example_row[] = {
    {"examples/alder-lane-cellar.json", read_store},
    {"examples/us-homebrew-corner.json", read_store},
    {"examples/brewhouse-20l.json", read_brewhouse},
    {"examples/brewhouse-5gal.json", read_brewhouse},
    {"examples/my-amber.json", read_target},
    {"targets/witbier.json", read_target},
    {"examples/last-autumn-amber.json", read_recipe},
};

static char *read_example(const struct example *x, size_t *length)
{
    char *text = golden_read(WF_SOURCE_DIR, x->path, length);
    if (!text)
        fail_msg("%s is missing", x->path);
    return text;
}

static void examples_are_good(void **state)
{
    static struct wf_error e;
    (void)state;
    for (size_t i = 0; i < COUNT_OF(example_row); i++) {
        size_t length;
        char *text = read_example(&example_row[i], &length);
        wf_error_clear(&e);
        if (example_row[i].read(text, length, &e) != WF_OK)
            fail_msg("%s: %s", example_row[i].path, e.text);
        free(text);
    }
}

/* ---- Damage ---------------------------------------------------------------------------------- */

/* What is left of a text when its end is lost is no JSON, unless only blanks are lost. The bytes
 * are copied to a block of their own, so that reading past them is seen. */
static void cut_files_are_refused(void **state)
{
    static struct wf_error e;
    (void)state;
    for (size_t i = 0; i < COUNT_OF(example_row); i++) {
        size_t length;
        char *text = read_example(&example_row[i], &length);
        size_t whole = (size_t)(strrchr(text, '}') - text) + 1;
        for (size_t cut = 0; cut < whole; cut++) {
            char *copy = malloc(cut ? cut : 1);
            memcpy(copy, text, cut);
            wf_error_clear(&e);
            enum wf_status status = example_row[i].read(copy, cut, &e);
            free(copy);
            if (status != WF_BAD_INPUT || e.count != 1)
                fail_msg("%s cut at %zu: status %d", example_row[i].path, cut, (int)status);
        }
        free(text);
    }
}

/* Bytes that mean something to a reader, and some that mean nothing. */
static const char telling[] = "{}[]\":,/*\\-+.0179eEuntf %\n\t\x01\x7F\x80\xC3\xFF";

/* One byte of a file is another: the file is good still, or refused with a message; never is it a
 * matter of memory, which is what a text would be that the scan takes and the tree does not. */
static void damaged_files_do_no_harm(void **state)
{
    static struct wf_error e;
    struct dice dice = {20261125};
    (void)state;
    for (size_t i = 0; i < COUNT_OF(example_row); i++) {
        size_t length;
        char *text = read_example(&example_row[i], &length);
        for (size_t at = 0; at < length; at++) {
            char kept = text[at];
            text[at] = dice_chance(&dice, 80)
                           ? telling[dice_whole(&dice, 0, (long)sizeof telling - 1)]
                           : (char)dice_whole(&dice, -128, 127);
            wf_error_clear(&e);
            enum wf_status status = example_row[i].read(text, length, &e);
            if (status != WF_OK && (status == WF_MEMORY || e.count == 0))
                fail_msg("%s with byte %zu 0x%02X: status %d", example_row[i].path, at,
                         (unsigned)(unsigned char)text[at], (int)status);
            text[at] = kept;
        }
        free(text);
    }
}

/* ---- Memory ---------------------------------------------------------------------------------- */

static enum wf_status read_again(void *data, struct wf_error *e)
{
    const struct example *x = data;
    size_t length;
    char *text = read_example(x, &length);
    enum wf_status status = x->read(text, length, e);
    free(text);
    return status;
}

static void running_out_of_memory_is_told(void **state)
{
    (void)state;
    for (size_t i = 0; i < COUNT_OF(example_row); i++)
        check_out_of_memory(read_again, &example_row[i], 20, 37);
}

static enum wf_status read_catalogue(void *data, struct wf_error *e)
{
    struct wf_catalogue *c;
    (void)data;
    enum wf_status status = wf_catalogue_read(&c, e);
    assert_true((status == WF_OK) == (c != NULL));
    wf_catalogue_free(c);
    return status;
}

static enum wf_status read_sample(void *data, struct wf_error *e)
{
    struct wf_store *s;
    (void)data;
    enum wf_status status = wf_store_sample(catalogue, &s, e);
    wf_store_free(s);
    return status;
}

static enum wf_status find_by_alias(void *data, struct wf_error *e)
{
    struct wf_target *t;
    enum wf_status status = wf_target_find(data, catalogue, &t, e);
    wf_target_free(t);
    return status;
}

static void running_out_of_memory_for_built_in_files_is_told(void **state)
{
    static char alias[] = "american-amber";
    (void)state;
    check_out_of_memory(read_catalogue, NULL, 1000, 211);
    check_out_of_memory(read_sample, NULL, 1000, 211);
    check_out_of_memory(find_by_alias, alias, 1000, 997);
}

/* ---- Many lots ------------------------------------------------------------------------------- */

static double seconds_to_read(int lots)
{
    struct wf_text t = {0};
    struct wf_error e = {0};
    wf_text_add(&t, "{ \"store\": \"Large\", \"malts\": [ { \"id\": \"pilsner-malt\" }");
    for (int i = 1; i < lots; i++)
        wf_text_add(&t,
                    ", { \"id\": \"lot-%d\", \"is\": \"crystal-%d\", \"have\": \"%d g\", "
                    "\"colour\": \"%d EBC\", \"price\": \"2.50/kg\" }",
                    i, 20 * (1 + i % 4), 100 + i, 50 + i % 100);
    wf_text_add(&t, " ] }");
    assert_false(t.failed);
    double best = HUGE_VAL;
    for (int run = 0; run < 3; run++) {
        struct wf_store *s;
        clock_t start = clock();
        if (wf_store_parse("large", t.data, t.length, catalogue, &s, &e) != WF_OK)
            fail_msg("%s", e.text);
        best = fmin(best, (double)(clock() - start) / CLOCKS_PER_SEC);
        assert_int_equal(s->malt_count, lots);
        wf_store_free(s);
    }
    wf_text_free(&t);
    return best;
}

/* Five times the lots take five times the time; ten times would not be linear. */
static void five_thousand_lots_are_read_in_linear_time(void **state)
{
    double few = seconds_to_read(WF_LOTS_MOST / 5), many = seconds_to_read(WF_LOTS_MOST);
    (void)state;
    print_message("%d lots: %.1f ms; %d lots: %.1f ms\n", WF_LOTS_MOST / 5, few * 1000,
                  WF_LOTS_MOST, many * 1000);
    assert_true(many < 12 * few + 0.01);
    assert_true(many < 2);
}

static void one_lot_more_is_refused(void **state)
{
    struct wf_text t = {0};
    static struct wf_error e;
    (void)state;
    wf_text_add(&t, "{ \"store\": \"x\", \"malts\": [ {}");
    for (int i = 0; i < WF_LOTS_MOST; i++)
        wf_text_add(&t, ", {}");
    wf_text_add(&t, " ] }");
    wf_error_clear(&e);
    assert_int_equal(read_store(t.data, t.length, &e), WF_BAD_INPUT);
    assert_string_equal(e.text, "f:1:26: malts: holds 5001 entries; at most 5000 are read");
    wf_text_free(&t);
}

/* ---- Threads --------------------------------------------------------------------------------- */

static void *read_catalogues(void *data)
{
    bool *good = data;
    *good = true;
    for (int i = 0; i < 10; i++) {
        struct wf_catalogue *c;
        *good = wf_catalogue_read(&c, NULL) == WF_OK && *good;
        wf_catalogue_free(c);
    }
    return NULL;
}

static void threads_may_read_at_once(void **state)
{
    pthread_t thread[4];
    bool good[4];
    (void)state;
    for (size_t i = 0; i < COUNT_OF(thread); i++)
        assert_int_equal(pthread_create(&thread[i], NULL, read_catalogues, &good[i]), 0);
    for (size_t i = 0; i < COUNT_OF(thread); i++) {
        assert_int_equal(pthread_join(thread[i], NULL), 0);
        assert_true(good[i]);
    }
}

/* ---- Tables ---------------------------------------------------------------------------------- */

static void check_row(const struct wf_json_field *f)
{
    bool inner = f->read == wf_json_object || f->read == wf_json_list;
    if (!f->read || !f->key || !f->key[0])
        fail_msg("a row without key or reader");
    if (!(f->low <= f->high))
        fail_msg("%s: low %g is over high %g", f->key, f->low, f->high);
    if ((f->read == wf_json_quantity || f->read == wf_json_range || f->read == wf_json_count ||
         f->read == wf_json_list || f->read == wf_json_ids || f->read == wf_json_texts) &&
        !(f->high > 0))
        fail_msg("%s: nothing is allowed", f->key);
    if (inner != (f->table != NULL))
        fail_msg("%s: a table is missing, or one too many", f->key);
    if ((f->read == wf_json_word) != (f->words != NULL))
        fail_msg("%s: words are missing, or too many", f->key);
    if (f->read == wf_json_list && f->table->size == 0)
        fail_msg("%s: items without size", f->key);
}

static size_t check_table(const struct wf_json_table *t)
{
    size_t rows = t->field_count;
    assert_true(rows > 0 && rows <= WF_JSON_FIELDS_MOST);
    for (size_t i = 0; i < t->field_count; i++) {
        check_row(&t->fields[i]);
        for (size_t k = 0; k < i; k++)
            if (strcmp(t->fields[i].key, t->fields[k].key) == 0)
                fail_msg("two rows for %s", t->fields[i].key);
        if (t->fields[i].table)
            rows += check_table(t->fields[i].table);
    }
    return rows;
}

static void tables_are_sound(void **state)
{
    (void)state;
    assert_true(check_table(&wf_store_table) > 80);
    assert_true(check_table(&wf_brewhouse_table) > 15);
    assert_true(check_table(&wf_target_table) > 60);
    assert_true(check_table(&wf_recipe_table) > 80);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(examples_are_good),
        cmocka_unit_test(cut_files_are_refused),
        cmocka_unit_test(damaged_files_do_no_harm),
        cmocka_unit_test(running_out_of_memory_is_told),
        cmocka_unit_test(running_out_of_memory_for_built_in_files_is_told),
        cmocka_unit_test(five_thousand_lots_are_read_in_linear_time),
        cmocka_unit_test(one_lot_more_is_refused),
        cmocka_unit_test(threads_may_read_at_once),
        cmocka_unit_test(tables_are_sound),
    };
    return cmocka_run_group_tests(tests, set_up, tear_down) != 0;
}
